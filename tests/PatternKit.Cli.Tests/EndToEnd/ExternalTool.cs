using System.ComponentModel;
using System.Diagnostics;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>Runs a program of the system that is no part of the product, to check what the product wrote.</summary>
internal static class ExternalTool
{
    /// <summary>What the program prints. Without the program the test is skipped aloud, or fails where CI=true.</summary>
    /// <param name="package">The Debian package that holds it.</param>
    /// <param name="program">The program.</param>
    /// <param name="probe">Arguments that succeed when the tool is complete.</param>
    /// <param name="arguments">Arguments of the run.</param>
    public static string Output(string package, string program, string[] probe, params string[] arguments)
    {
        if (Start(program, probe) is not { Code: 0 })
        {
            var why = $"{program} with {package} is not installed (Debian package {package}): the check did not run.";
            if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(why);
            Assert.Skip(why);
        }

        var run = Start(program, arguments)!;
        Assert.True(run.Code == 0, $"{program} ended with {run.Code}: {run.Error}");
        return run.Out;
    }

    /// <summary>One run of a program; null where there is none of its name.</summary>
    public static Run? Start(string program, string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["PYTHONIOENCODING"] = "utf-8";
        start.Environment["PYTHONDONTWRITEBYTECODE"] = "1";
        try
        {
            using var process = Process.Start(start)!;
            var error = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return new(process.ExitCode, output, error.Result);
        }
        catch (Win32Exception)
        {
            return null;
        }
    }
}
