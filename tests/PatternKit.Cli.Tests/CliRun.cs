using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets;

namespace PatternKit.Cli.Tests;

/// <summary>One run of the program in a folder of its own, with a pipeline that makes kits of no geometry.</summary>
internal sealed class CliRun : IDisposable
{
    public const string Job = "title = \"Cover plate\"\nunit = \"mm\"\nalloy = \"AlSi7Mg\"\nsand = \"oil-bonded\"\n[[part]]\nshape = { circle = 40 }\nz = [0, 12]\n";

    public string Folder { get; } = Directory.CreateTempSubdirectory("patternkit-test-").FullName;

    /// <summary>What the pipeline finds in every job.</summary>
    public ImmutableArray<Finding> Findings { get; set; } = [];

    /// <summary>Replaces building where a test needs a defect.</summary>
    public Func<Job, FoundryTables, Kit>? Build { get; set; }

    public string Out { get; private set; } = "";

    public string Error { get; private set; } = "";

    public string Path(params string[] parts) => System.IO.Path.Combine([Folder, .. parts]);

    public string Put(string name, string text)
    {
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(Path(name))!);
        File.WriteAllText(Path(name), text);
        return Path(name);
    }

    public int Do(params string[] args)
    {
        using var stdout = new StringWriter(CultureInfo.InvariantCulture);
        using var stderr = new StringWriter(CultureInfo.InvariantCulture);
        var code = CommandLine.Run(args, stdout, stderr, new Pipeline(Build ?? ((job, _) => Empty(job)), Render));
        (Out, Error) = (stdout.ToString(), stderr.ToString());
        return code;
    }

    /// <summary>Fails unless stderr is one line that starts with the program's name and holds the texts.</summary>
    public void ErrorIsOneLineWith(params string[] texts)
    {
        Assert.StartsWith("patternkit: ", Error, StringComparison.Ordinal);
        Assert.Equal(1, Error.Count(c => c == '\n'));
        Assert.DoesNotContain("   at ", Error, StringComparison.Ordinal);
        Assert.All(texts, t => Assert.Contains(t, Error, StringComparison.Ordinal));
    }

    public void Dispose() => Directory.Delete(Folder, true);

    private Kit Empty(Job job) => new(
        job, "an alloy", 1, Box3.Empty, 1.013, [],
        new(0, 0, 0, 0, 0, 0, "a flat back"), new(1, 0, 0, 0, 0, 0, 0, 0, 0, 1), [], [], [],
        new(2680, "a book", 1, 1, "the casting alone"), new(PlanRegion.Empty, PlanRegion.Empty, [], []), Findings, []);

    private static ImmutableArray<KitFile> Render(Kit kit) =>
        [new("kit.json", [.. System.Text.Encoding.UTF8.GetBytes($"{{\"job\": \"{kit.Job.Name}\"}}\n")]), new("cope.stl", [1, 2, 3])];
}
