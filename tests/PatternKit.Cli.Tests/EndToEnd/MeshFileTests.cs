using System.Globalization;
using System.Text.RegularExpressions;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>Every STL file of every template against ADMesh (Debian package admesh), which repairs meshes and counts what it repaired.</summary>
public sealed partial class MeshFileTests(MadeKits kits)
{
    private static readonly string[] Defects =
    [
        "Facets with 1 disconnected edge", "Facets with 2 disconnected edges", "Facets with 3 disconnected edges",
        "Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added",
        "Facets reversed", "Backwards edges", "Normals fixed",
    ];

    [Theory]
    [MemberData(nameof(MadeKits.Names), MemberType = typeof(MadeKits))]
    public void Admesh_finds_nothing_to_repair_and_agrees_on_facets_volume_and_box(string template)
    {
        var made = kits.Of(template);
        var bodies = KitFileTests.Json(made).GetProperty("bodies").EnumerateArray().ToDictionary(b => b.GetProperty("file").GetString()!);
        var files = made.Files("*.stl").ToList();
        Assert.NotEmpty(files);
        Assert.Equal(bodies.Keys.Order(StringComparer.Ordinal), files.Select(f => Path.GetFileName(f)));
        foreach (var file in files)
        {
            var text = ExternalTool.Output("admesh", "admesh", ["--version"], file);
            var figures = new Dictionary<string, double>();
            foreach (Match m in Line().Matches(text))
                figures[m.Groups["name"].Value.Trim()] = double.Parse(m.Groups["first"].Value, CultureInfo.InvariantCulture);
            foreach (var defect in Defects) Assert.True(figures[defect] == 0, $"{template} {Path.GetFileName(file)}: {defect}: {figures[defect]}\n{text}");
            var body = bodies[Path.GetFileName(file)];
            Assert.Equal(1, figures["Number of parts"]);
            Assert.Equal(body.GetProperty("triangles").GetInt32(), figures["Number of facets"]);
            // It sums in single precision.
            Assert.Equal(1, figures["Volume"] / body.GetProperty("volume_mm3").GetDouble(), 1e-4);
            Assert.Equal(0, figures["Min Z"]);
        }
    }

    // Where a line has two numbers, the first is the file as it came and the second the file after the repairs.
    [GeneratedRegex(@"(?<name>[A-Z][A-Za-z0-9 ]+?)\s*[:=]\s*(?<first>-?[0-9.]+)")]
    private static partial Regex Line();
}
