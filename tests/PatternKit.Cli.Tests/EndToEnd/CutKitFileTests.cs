using System.Globalization;
using System.Text.Json;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>A bearing arm of the pump house, cut to a bed of 180 × 180 mm, loose and on a match plate: every STL file against ADMesh (Debian package admesh).</summary>
public sealed class CutKitFileTests
{
    private const string Arm = """
        title = "Bearing arm of the pump house"
        unit  = "mm"
        alloy = "AlSi7Mg"
        sand  = "oil-bonded"
        PLATE

        [[part]]
        shape = { slot = [320, 70] }
        z     = [-8, 12]

        [[part]]
        name  = "boss"
        shape = { circle = 44, at = [60, 0] }
        z     = [0, 30]

        [[part]]
        name  = "rib"
        shape = { rectangle = [150, 8], at = [-40, 0] }
        z     = [0, 22]
        """;

    [Theory]
    [InlineData("", "cope-left", "cope-right")]
    [InlineData("plate = \"match\"", "plate-cope-left-front", "plate-drag-right-back")]
    public void Admesh_finds_nothing_to_repair_in_any_piece(string plate, params string[] among)
    {
        using var run = new CliRun();
        var job = run.Put("arm/job.toml", Arm.Replace("PLATE", plate, StringComparison.Ordinal));
        run.Put("arm/shop.toml", "[printer]\nbed_mm = [180, 180]\n");
        var made = MadeKits.Do("make", job, "--out", run.Path("kits"));
        Assert.True(made.Code == 0, made.Error + made.Out);
        Assert.Contains("cut-to-bed", made.Out, StringComparison.Ordinal);
        var json = JsonDocument.Parse(File.ReadAllText(run.Path("kits", "arm", "kit.json"))).RootElement;
        var pieces = json.GetProperty("cut_bodies").EnumerateArray().SelectMany(c => c.GetProperty("pieces").EnumerateArray()).Select(p => p.GetProperty("body").GetString()!).ToArray();
        Assert.All(among, name => Assert.Contains(name, pieces));
        foreach (var piece in pieces)
        {
            var text = ExternalTool.Output("admesh", "admesh", ["--version"], run.Path("kits", "arm", piece + ".stl"));
            foreach (var defect in new[] { "Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed" })
                Assert.True(Figure(text, defect) == 0, $"{piece}: {defect}\n{text}");
            var body = json.GetProperty("bodies").EnumerateArray().Single(b => b.GetProperty("name").GetString() == piece);
            Assert.Equal(1, Figure(text, "Number of parts"));
            Assert.Equal(1, Figure(text, "Volume") / body.GetProperty("volume_mm3").GetDouble(), 1e-4);
            Assert.Equal(0, Figure(text, "Min Z"));
            Assert.True(Figure(text, "Max X") - Figure(text, "Min X") <= 180 && Figure(text, "Max Y") - Figure(text, "Min Y") <= 180, piece);
        }
    }

    private static double Figure(string text, string name)
    {
        var rest = text[(text.IndexOf(name, StringComparison.Ordinal) + name.Length)..].TrimStart(' ', ':', '=');
        return double.Parse(new string([.. rest.TakeWhile(c => char.IsAsciiDigit(c) || c is '.' or '-')]), CultureInfo.InvariantCulture);
    }
}
