using System.Text.Json;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>The files of a kit with a stepped joint, an offset bracket of a pump's rod, against admesh and ezdxf.</summary>
public sealed class SteppedKitFileTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("patternkit-test-").FullName;

    public void Dispose() => Directory.Delete(folder, true);

    [Theory]
    [InlineData(2.5, 27.5)]
    [InlineData(0, 25)]
    public void An_offset_bracket_comes_out_in_two_sound_halves_with_its_line_and_levels_in_the_files(double low, double high)
    {
        File.WriteAllText(Path.Combine(folder, "bracket.obj"), ObjBodies.Bar(20, (-45, 0), (6, 0), (6, 25), (45, 25), (45, 30), (0, 30), (0, 5), (-45, 5)));
        File.WriteAllText(Path.Combine(folder, "job.toml"), FormattableString.Invariant(
            $"title = \"Offset bracket\"\nunit = \"mm\"\nalloy = \"gray-iron\"\nsand = \"green\"\n[[part]]\nmesh = \"bracket.obj\"\n[parting]\njoint = \"stepped\"\nat = {low}\nlevels = [{{ shape = {{ rectangle = [60, 60], at = [35.5, 10] }}, z = {high} }}]\n"));
        var run = MadeKits.Do("make", Path.Combine(folder, "job.toml"), "--out", Path.Combine(folder, "out"));
        Assert.True(run.Code == 0, run.Error + run.Out);
        Assert.Contains("stepped as the job asks", run.Out, StringComparison.Ordinal);
        var kit = Directory.GetDirectories(Path.Combine(folder, "out")).Single();
        var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(kit, "kit.json"))).RootElement;
        var (scale, stepped) = (json.GetProperty("scale").GetDouble(), json.GetProperty("parting").GetProperty("stepped"));
        Assert.Equal([low, high], stepped.GetProperty("levels_mm").EnumerateArray().Select(z => z.GetDouble()));
        Assert.Equal(10, stepped.GetProperty("step_draft_deg").GetDouble(), 1e-9);
        Assert.Equal(80, stepped.GetProperty("steepest_deg").GetDouble(), 0.05);
        JointFiles.AssertSound(kit, json);
        var line = JointFiles.Line(kit);
        Assert.Equal(scale * low, line.Min(p => p[2]), 1e-3);
        Assert.Equal(scale * high, line.Max(p => p[2]), 1e-3);
        var foot = 5.5 - ((high - low) * Math.Tan(10 * Math.PI / 180));
        Assert.Contains(line, p => Math.Abs(p[0] - (scale * foot)) < 0.01 && Math.Abs(p[2] - (scale * low)) < 0.01);

        var sheet = File.ReadAllText(Path.Combine(kit, "shop-sheet.html"));
        Assert.Contains("Levels of the joint, job z", sheet, StringComparison.Ordinal);
        Assert.Contains("The joint face is stepped", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("carved", sheet, StringComparison.Ordinal);
    }
}
