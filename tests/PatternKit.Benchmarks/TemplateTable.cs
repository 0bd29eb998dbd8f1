using System.Diagnostics;
using System.Globalization;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Benchmarks;

/// <summary>Every template made by the program as it is started: the whole process, from its start to its end.</summary>
internal static class TemplateTable
{
    /// <summary>Prints the first and the best time of each template.</summary>
    public static void Print(bool quick, TextWriter output)
    {
        var program = RepositoryFiles.Path("src/PatternKit.Cli/bin/Release/net10.0/patternkit" + (OperatingSystem.IsWindows() ? ".exe" : ""));
        if (!File.Exists(program))
        {
            output.WriteLine($"no templates: {program} is not built (dotnet build -c Release src/PatternKit.Cli)");
            return;
        }

        var folder = Directory.CreateTempSubdirectory("patternkit-benchmark-").FullName;
        try
        {
            output.WriteLine("make of every template, whole process");
            foreach (var template in Directory.GetDirectories(RepositoryFiles.Path("templates")).Order(StringComparer.Ordinal))
            {
                var times = Enumerable.Range(0, quick ? 3 : 10).Select(_ => Seconds(program, template, folder)).ToList();
                output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileName(template),-18} first {times[0]:0.00} s, best {times.Min():0.00} s"));
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }

        output.WriteLine();
    }

    private static double Seconds(string program, string template, string folder)
    {
        var clock = Stopwatch.StartNew();
        using var process = Process.Start(new ProcessStartInfo(program, ["make", template, "--out", folder]) { RedirectStandardOutput = true })!;
        process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 ? clock.Elapsed.TotalSeconds : throw new InvalidOperationException($"patternkit make {template} ended with {process.ExitCode}.");
    }
}
