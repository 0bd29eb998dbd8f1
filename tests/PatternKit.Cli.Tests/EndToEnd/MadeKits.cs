using System.Collections.Concurrent;
using System.Globalization;

// One for all classes: making kits is most of the work.
[assembly: AssemblyFixture(typeof(PatternKit.Cli.Tests.EndToEnd.MadeKits))]

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>Every template taken with <c>new</c> and made twice by the whole program; shared by the tests and removed after them.</summary>
public sealed class MadeKits : IDisposable
{
    private readonly ConcurrentDictionary<string, Lazy<Made>> made = new();
    private readonly string folder = Directory.CreateTempSubdirectory("patternkit-test-").FullName;

    /// <summary>The templates of the repository: one folder each.</summary>
    public static TheoryData<string> Names() => [.. Directory.GetDirectories(Path.Combine(AppContext.BaseDirectory, "templates")).Select(d => Path.GetFileName(d)!).Order(StringComparer.Ordinal)];

    public Made Of(string template) => made.GetOrAdd(template, t => new(() => Make(t))).Value;

    public void Dispose() => Directory.Delete(folder, true);

    /// <summary>One run of the program as it is shipped.</summary>
    public static Run Do(params string[] args)
    {
        using var stdout = new StringWriter(CultureInfo.InvariantCulture);
        using var stderr = new StringWriter(CultureInfo.InvariantCulture);
        var code = CommandLine.Run(args, stdout, stderr);
        return new(code, stdout.ToString(), stderr.ToString());
    }

    private Made Make(string template)
    {
        var job = Path.Combine(folder, template, "job", template);
        Directory.CreateDirectory(Path.GetDirectoryName(job)!);
        var started = Do("new", job, "--from", template);
        Assert.True(started.Code == 0, started.Error);
        var kits = new[] { "first", "second" }.Select(time =>
        {
            var into = Path.Combine(folder, template, time);
            return (Run: Do("make", job, "--out", into), Folder: Path.Combine(into, template));
        }).ToArray();
        return new(job, kits[0].Run, kits[1].Run, kits[0].Folder, kits[1].Folder);
    }
}

/// <summary>What one run of the program answered.</summary>
public sealed record Run(int Code, string Out, string Error);

/// <summary>A template made twice.</summary>
/// <param name="Job">Its job folder.</param>
/// <param name="First">The first run.</param>
/// <param name="Second">The second run, into another folder.</param>
/// <param name="Kit">Folder of the first kit.</param>
/// <param name="Again">Folder of the second.</param>
public sealed record Made(string Job, Run First, Run Second, string Kit, string Again)
{
    public IEnumerable<string> Files(string pattern) => Directory.GetFiles(Kit, pattern).Order(StringComparer.Ordinal);
}
