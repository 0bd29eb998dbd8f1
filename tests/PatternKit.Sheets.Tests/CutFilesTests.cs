using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>The files of a kit whose halves are cut to the printer's bed, for a split rail of the pump house.</summary>
public sealed class CutFilesTests
{
    private static readonly Lazy<Kit> Made = new(() =>
    {
        var outline = PlanPath.Polygon(new Vec2(0, 0), new(300, 0), new(300, 60), new(0, 60));
        var job = new Job(
            "rail", "Rail of the pump house", LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded",
            [new("rail", null, [outline], -9, 12, CutKind.None, "job.toml, line 7")], new(0), new(), [], [], [])
        {
            Gating = new(Wanted: false),
        };
        return KitBuilder.Build(job, FoundryTables.Default.With("[printer]\nbed_mm = [180, 180]\n", "shop.toml"));
    });

    private static readonly Lazy<Dictionary<string, byte[]>> Files = new(() => KitFiles.Render(Made.Value).ToDictionary(f => f.Name, f => f.Content));

    [Fact]
    public void Pieces_have_files_instead_of_the_halves_and_lie_in_their_places()
    {
        string[] names = ["cope-left", "cope-right", "drag-left", "drag-right"];
        Assert.Equal(names.Select(n => n + ".stl"), Files.Value.Keys.Where(k => k.EndsWith(".stl", StringComparison.Ordinal)));
        var bodies = ThreeMfReader.Read(Files.Value["kit.3mf"], "kit.3mf").Value.ToDictionary(b => b.Name, b => b.Mesh.Bounds());
        Assert.Equal(names, bodies.Keys.Order(StringComparer.Ordinal));
        Assert.True(bodies["cope-left"].Low.X < 0 && bodies["cope-right"].High.X > 300);
        Assert.Equal((0.0, 0.0), (bodies["cope-left"].Low.Z, bodies["drag-right"].High.Z));
    }

    [Fact]
    public void Json_tells_cuts_dovetails_and_pieces()
    {
        var json = JsonDocument.Parse(Files.Value["kit.json"]).RootElement;
        var cut = json.GetProperty("cut_bodies").EnumerateArray().ToArray();
        Assert.Equal(["cope", "drag"], cut.Select(c => c.GetProperty("of").GetString()));
        var volumes = json.GetProperty("bodies").EnumerateArray().ToDictionary(b => b.GetProperty("name").GetString()!, b => b.GetProperty("volume_mm3").GetDouble());
        foreach (var c in cut)
        {
            Assert.Equal(0.2, c.GetProperty("gap_mm").GetDouble());
            var line = Assert.Single(c.GetProperty("cuts").EnumerateArray());
            Assert.Equal("x", line.GetProperty("across").GetString());
            Assert.InRange(line.GetProperty("at_mm").GetDouble(), 120, 184);
            // The flanks lean out by 1 in 6.
            Assert.All(line.GetProperty("dovetails").EnumerateArray(), t => Assert.Equal(
                t.GetProperty("neck_mm").GetDouble() + (t.GetProperty("depth_mm").GetDouble() / 3), t.GetProperty("width_mm").GetDouble(), 1e-9));
            var pieces = c.GetProperty("pieces").EnumerateArray().ToArray();
            Assert.Equal(["left", "right"], pieces.Select(p => p.GetProperty("place").GetString()));
            // The strip of 0.2 mm takes less than a thousandth.
            Assert.Equal(1, pieces.Sum(p => volumes[p.GetProperty("body").GetString()!]) / c.GetProperty("volume_mm3").GetDouble(), 1e-3);
        }
    }

    [Fact]
    public void The_layout_has_the_seams_of_both_halves()
    {
        var curves = DxfReader.Read(Files.Value["layout.dxf"], "layout.dxf").Value.Curves;
        foreach (var (layer, cut) in new[] { "CUT_COPE", "CUT_DRAG" }.Zip(Made.Value.Cut))
        {
            var seam = Assert.Single(curves, c => c.Layer == layer).Path;
            var (from, to) = (seam.Vertices[0].Point, seam.Vertices[^1].Point);
            Assert.Equal(cut.Whole.InMould.Bounds().Size.Y, Math.Abs(to.Y - from.Y), 0.02);
            Assert.Equal(2 + (4 * cut.Plan.Cuts[0].Tails.Length), seam.Vertices.Length);
        }
    }

    [Fact]
    public void The_sheet_shows_the_cuts_and_tells_how_the_pieces_are_joined()
    {
        var text = Encoding.UTF8.GetString(Files.Value["shop-sheet.html"]);
        var sheet = XDocument.Parse(text["<!DOCTYPE html>".Length..].Trim());
        var section = Assert.Single(sheet.Descendants(), e => (string?)e.Attribute("id") == "pieces").Parent!;
        Assert.Equal(2, section.Descendants().Count(e => e.Name.LocalName == "svg"));
        Assert.Contains("cope-left.stl", section.Value, StringComparison.Ordinal);
        Assert.Contains("every dovetail goes into its socket from above", section.Value, StringComparison.Ordinal);
        Assert.Contains("Glue only in fresh air", section.Value, StringComparison.Ordinal);
        // Each piece is pictured, under a name of its own.
        // Where the cuts are, as in kit.json.
        Assert.All(Made.Value.Cut.SelectMany(c => c.Plan.Cuts), c => Assert.Contains(FormattableString.Invariant($"{c.At:0.00}\u00A0mm"), section.Value, StringComparison.Ordinal));
        var titles = sheet.Descendants().Where(e => e.Name.LocalName == "title" && ((string?)e.Attribute("id"))?.StartsWith("picture-", StringComparison.Ordinal) == true).Select(e => (string?)e.Attribute("id")).ToArray();
        Assert.Equal(["picture-kit", "picture-cope-left", "picture-cope-right", "picture-drag-left", "picture-drag-right"], titles);
        Assert.DoesNotContain("id=\"pieces\"", Encoding.UTF8.GetString(KitFiles.Render(Made.Value with { CutHalves = [] }).Single(f => f.Name == "shop-sheet.html").Content), StringComparison.Ordinal);
    }
}
