using System.Text.Json;
using PatternKit.Exchange.Stl;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>Two templates of one alloy in one mould, by the whole program: the lever bracket with two handwheels.</summary>
public sealed class MixedKitFileTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("patternkit-test-").FullName;

    public void Dispose() => Directory.Delete(folder, true);

    [Fact]
    public void Every_body_of_the_mould_is_valid_and_all_castings_are_told()
    {
        foreach (var template in new[] { "lever-bracket", "handwheel" }) Assert.Equal(0, MadeKits.Do("new", Path.Combine(folder, template), "--from", template).Code);
        var job = Path.Combine(folder, "lever-bracket", "job.toml");
        File.AppendAllText(job, "\n[[also]]\njob = \"../handwheel/job.toml\"\ntimes = 2\n");
        var run = MadeKits.Do("make", job, "--out", Path.Combine(folder, "kits"));
        Assert.Equal((0, ""), (run.Code, run.Error));
        Assert.Contains("1 lever-bracket of", run.Out, StringComparison.Ordinal);
        Assert.Contains("and 2 handwheel of", run.Out, StringComparison.Ordinal);
        var kit = Path.Combine(folder, "kits", "lever-bracket");
        var files = Directory.GetFiles(kit, "*.stl");
        Assert.Superset(new HashSet<string> { "cope.stl", "drag.stl", "runner.stl", "ingate-3.stl" }, files.Select(f => Path.GetFileName(f)).ToHashSet());
        Assert.All(files, f => Assert.True(MeshInspection.Inspect(StlReader.Read(File.ReadAllBytes(f), f).Value) is { IsValid: true, Volume_mm3: > 0 }, f));
        var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(kit, "kit.json"))).RootElement;
        Assert.Equal(["lever-bracket", "handwheel", "handwheel"], json.GetProperty("impressions").GetProperty("castings").EnumerateArray().Select(c => c.GetProperty("part").GetString()));
        Assert.Equal(["job.toml", "bracket.dxf", "handwheel/job.toml"], json.GetProperty("inputs").EnumerateArray().Select(i => i.GetProperty("name").GetString()));
        Assert.DoesNotContain("impressions-near", run.Out, StringComparison.Ordinal);
    }
}
