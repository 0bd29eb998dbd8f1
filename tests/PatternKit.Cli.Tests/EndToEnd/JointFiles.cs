using System.Globalization;
using System.Text.Json;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>What admesh and ezdxf make of the files of a kit whose joint is not flat.</summary>
internal static class JointFiles
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

    /// <summary>admesh has nothing to mend in any half, counts one part, and finds the volume that the kit tells.</summary>
    public static void AssertSound(string kit, JsonElement json)
    {
        foreach (var body in json.GetProperty("bodies").EnumerateArray())
        {
            var text = ExternalTool.Output("admesh", "admesh", ["--version"], Path.Combine(kit, body.GetProperty("file").GetString()!));
            foreach (var defect in new[] { "Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges" })
                Assert.True(Figure(text, defect) == 0, $"{defect}\n{text}");
            Assert.Equal(1, Figure(text, "Number of parts"));
            Assert.Equal(1, Figure(text, "Volume") / body.GetProperty("volume_mm3").GetDouble(), 1e-4);
        }
    }

    /// <summary>The parting line in space of a drawing in which ezdxf finds no error; its plan is the line in plan.</summary>
    public static double[][] Line(string kit)
    {
        var found = JsonDocument.Parse(ExternalTool.Output("python3-ezdxf", "/usr/bin/python3", ["-c", "import ezdxf"], ["-c", Script, Path.Combine(kit, "parting.dxf")])).RootElement;
        Assert.Equal(0, found.GetProperty("errors").GetInt32());
        var (space, plan) = (Points("space"), Points("plan"));
        Assert.Equal(plan.Select(p => (p[0], p[1])), space.Select(p => (p[0], p[1])));
        return space;

        double[][] Points(string name) => [.. found.GetProperty(name).EnumerateArray().Single().EnumerateArray().Select(p => p.EnumerateArray().Select(c => c.GetDouble()).ToArray())];
    }

    private static double Figure(string text, string name)
    {
        var rest = text[(text.IndexOf(name, StringComparison.Ordinal) + name.Length)..].TrimStart(' ', ':', '=');
        return double.Parse(new string([.. rest.TakeWhile(c => char.IsAsciiDigit(c) || c is '.' or '-')]), CultureInfo.InvariantCulture);
    }
}
