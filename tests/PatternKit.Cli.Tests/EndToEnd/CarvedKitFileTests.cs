using System.Text.Json;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>The files of a kit with a carved joint, a cranked pump handle, against admesh and ezdxf.</summary>
public sealed class CarvedKitFileTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("patternkit-test-").FullName;

    public void Dispose() => Directory.Delete(folder, true);

    [Fact]
    public void A_cranked_handle_comes_out_in_two_sound_halves_with_its_line_in_the_drawing()
    {
        File.WriteAllText(Path.Combine(folder, "handle.obj"), Handle());
        File.WriteAllText(Path.Combine(folder, "job.toml"), "title = \"Pump handle\"\nunit = \"mm\"\nalloy = \"AlSi7Mg\"\nsand = \"oil-bonded\"\n[[part]]\nmesh = \"handle.obj\"\n[parting]\njoint = \"carved\"\n");
        var run = MadeKits.Do("make", Path.Combine(folder, "job.toml"), "--out", Path.Combine(folder, "out"));
        Assert.True(run.Code == 0, run.Error + run.Out);
        var kit = Directory.GetDirectories(Path.Combine(folder, "out")).Single();
        var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(kit, "kit.json"))).RootElement;
        var carved = json.GetProperty("parting").GetProperty("carved");
        // The handle is cranked by 25 mm, at tan a = 12.5 π / 80 in the steepest; the line is a little flatter.
        Assert.InRange(carved.GetProperty("line_slope_deg").GetDouble(), 15, Math.Atan(12.5 * Math.PI / 80) * 180 / Math.PI);
        Assert.InRange(carved.GetProperty("above_mm").GetDouble() + carved.GetProperty("below_mm").GetDouble(), 22, 25.5);

        JointFiles.AssertSound(kit, json);
        // Where a crease of the bar crosses a line of the joint's ground, no upright hair is left.
        Assert.DoesNotContain(json.GetProperty("findings").EnumerateArray(), f => f.GetProperty("code").GetString() == "no-draft" && f.GetProperty("severity").GetString() == "warn");
        var space = JointFiles.Line(kit);
        var level = json.GetProperty("parting").GetProperty("pattern_height_mm").GetDouble();
        Assert.Equal(level + carved.GetProperty("above_mm").GetDouble(), space.Max(p => p[2]), 0.2);
        Assert.Equal(level - carved.GetProperty("below_mm").GetDouble(), space.Min(p => p[2]), 0.2);

        var sheet = File.ReadAllText(Path.Combine(kit, "shop-sheet.html"));
        Assert.Contains("follow board", sheet, StringComparison.Ordinal);
        Assert.Contains("supports under it", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("flat face down", sheet, StringComparison.Ordinal);
    }

    /// <summary>A round bar of radius 9 and length 220, cranked by 25 over 80 in its middle.</summary>
    private static string Handle() => ObjBodies.RoundBar(9, 220, 40, 110, x => 12.5 * (1 - Math.Cos(Math.PI * (Math.Clamp(x, -40, 40) + 40) / 80)));
}
