using System.Globalization;
using System.Text.Json;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>The files of a kit with a carved joint, a cranked pump handle, against admesh and ezdxf.</summary>
public sealed class CarvedKitFileTests : IDisposable
{
    // Heights of every corner of the line in space, how many corners that in plan has, and what the audit found.
    private const string Script =
        """
        import sys, json, ezdxf
        d = ezdxf.readfile(sys.argv[1])
        a = d.audit()
        m = d.modelspace()
        space = [[list(v.dxf.location) for v in e.vertices] for e in m.query('POLYLINE[layer=="PARTING_LINE_3D"]')]
        plan = [list(e.get_points("xy")) for e in m.query('LWPOLYLINE[layer=="PARTING_LINE"]')]
        print(json.dumps({"errors": len(a.errors) + len(a.fixes), "space": space, "plan": plan}))
        """;

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

        foreach (var body in json.GetProperty("bodies").EnumerateArray())
        {
            var text = ExternalTool.Output("admesh", "admesh", ["--version"], Path.Combine(kit, body.GetProperty("file").GetString()!));
            foreach (var defect in new[] { "Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges" })
                Assert.True(Figure(text, defect) == 0, $"{defect}\n{text}");
            Assert.Equal(1, Figure(text, "Number of parts"));
            Assert.Equal(1, Figure(text, "Volume") / body.GetProperty("volume_mm3").GetDouble(), 1e-4);
        }

        var found = JsonDocument.Parse(ExternalTool.Output("python3-ezdxf", "/usr/bin/python3", ["-c", "import ezdxf"], ["-c", Script, Path.Combine(kit, "parting.dxf")])).RootElement;
        Assert.Equal(0, found.GetProperty("errors").GetInt32());
        var space = found.GetProperty("space").EnumerateArray().Single().EnumerateArray().Select(p => p.EnumerateArray().Select(c => c.GetDouble()).ToArray()).ToArray();
        var plan = found.GetProperty("plan").EnumerateArray().Single().EnumerateArray().Select(p => p.EnumerateArray().Select(c => c.GetDouble()).ToArray()).ToArray();
        Assert.Equal(plan.Select(p => (p[0], p[1])), space.Select(p => (p[0], p[1])));
        var level = json.GetProperty("parting").GetProperty("pattern_height_mm").GetDouble();
        Assert.Equal(level + carved.GetProperty("above_mm").GetDouble(), space.Max(p => p[2]), 0.2);
        Assert.Equal(level - carved.GetProperty("below_mm").GetDouble(), space.Min(p => p[2]), 0.2);

        var sheet = File.ReadAllText(Path.Combine(kit, "shop-sheet.html"));
        Assert.Contains("follow board", sheet, StringComparison.Ordinal);
        Assert.Contains("supports under it", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("flat face down", sheet, StringComparison.Ordinal);
    }

    private static double Figure(string text, string name)
    {
        var rest = text[(text.IndexOf(name, StringComparison.Ordinal) + name.Length)..].TrimStart(' ', ':', '=');
        return double.Parse(new string([.. rest.TakeWhile(c => char.IsAsciiDigit(c) || c is '.' or '-')]), CultureInfo.InvariantCulture);
    }

    /// <summary>A round bar of radius 9 and length 220, cranked by 25 over 80 in its middle.</summary>
    private static string Handle() => ObjBodies.RoundBar(9, 220, 40, 110, x => 12.5 * (1 - Math.Cos(Math.PI * (Math.Clamp(x, -40, 40) + 40) / 80)));
}
