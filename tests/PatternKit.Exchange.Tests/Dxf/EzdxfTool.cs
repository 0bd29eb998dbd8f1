using System.Diagnostics;
using System.Text.Json;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Runs a script with ezdxf (Debian python3-ezdxf), an independent reader and writer of DXF.</summary>
internal static class EzdxfTool
{
    private static readonly Lazy<string?> Python = new(() => new[] { "/usr/bin/python3", "python3" }.FirstOrDefault(p => Try(p, "-c", "import ezdxf").Code == 0));

    /// <summary>What the script of tests/cases/dxf prints, as JSON. Skips the test where ezdxf is missing; under CI=true fails it.</summary>
    public static JsonElement Run(string script, params string[] arguments)
    {
        if (Python.Value is not { } python)
        {
            if (RepositoryFiles.MustRunAll) Assert.Fail("python3-ezdxf is missing; install it with apt-get install python3-ezdxf.");
            Assert.Skip("python3-ezdxf is not installed: the comparison with an independent reader did not run.");
            throw new InvalidOperationException();
        }

        var (code, output, errors) = Try(python, [RepositoryFiles.Case(script), .. arguments]);
        Assert.True(code == 0, errors);
        return JsonDocument.Parse(output).RootElement;
    }

    private static (int Code, string Output, string Errors) Try(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["PYTHONIOENCODING"] = "utf-8";
        start.Environment["PYTHONDONTWRITEBYTECODE"] = "1";
        try
        {
            using var process = Process.Start(start)!;
            var errors = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return (process.ExitCode, output, errors.Result);
        }
        catch (System.ComponentModel.Win32Exception missing)
        {
            return (-1, "", missing.Message);
        }
    }
}
