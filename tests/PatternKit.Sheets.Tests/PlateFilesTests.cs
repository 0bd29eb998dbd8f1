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

/// <summary>A match plate in the files of a kit, for a split distance piece of the pump house.</summary>
public sealed class PlateFilesTests
{
    private static readonly Lazy<Kit> Made = new(() =>
    {
        var outline = PlanPath.Polygon(new Vec2(0, 0), new(120, 0), new(120, 60), new(0, 60));
        var job = new Job(
            "piece", "Distance piece of the pump house", LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded",
            [new("piece", null, [outline], -9, 12, CutKind.None, "job.toml, line 7")], new(0), new(), [], [], [])
        {
            Plate = new(PlateKind.Match, (260, 200), Pins: [new(new(-120, 0), 10), new(new(120, 0), 8)]),
        };
        return KitBuilder.Build(job, FoundryTables.Default);
    });

    private static readonly Lazy<Dictionary<string, byte[]>> Files = new(() => KitFiles.Render(Made.Value).ToDictionary(f => f.Name, f => f.Content));

    [Fact]
    public void Plates_have_files_instead_of_what_stands_on_them_and_meet_back_to_back()
    {
        Assert.Equal(["plate-cope.stl", "plate-drag.stl", "sprue.stl"], Files.Value.Keys.Where(k => k.EndsWith(".stl", StringComparison.Ordinal)));
        var bodies = ThreeMfReader.Read(Files.Value["kit.3mf"], "kit.3mf").Value.ToDictionary(b => b.Name, b => b.Mesh.Bounds());
        Assert.Equal((0.0, 0.0), (bodies["plate-cope"].Low.Z, bodies["plate-drag"].High.Z));
    }

    [Fact]
    public void Json_tells_the_plate()
    {
        var plate = JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("plate");
        Assert.Equal("two halves back to back", plate.GetProperty("form").GetString());
        Assert.Equal(6, plate.GetProperty("thickness_mm").GetDouble());
        Assert.Equal(260, plate.GetProperty("high_mm")[0].GetDouble() - plate.GetProperty("low_mm")[0].GetDouble(), 9);
        Assert.Equal([10.3, 8.3], plate.GetProperty("pins").EnumerateArray().Select(p => Math.Round(p.GetProperty("hole_mm").GetDouble(), 9)));
        Assert.Equal(2, plate.GetProperty("dowels").GetArrayLength());
        // Fillets of 1 mm: 1 mm² less a quarter of a circle, about, along every foot; of which the piece has 360 mm in each half.
        Assert.True(plate.GetProperty("fillets_mm3").GetDouble() > 2 * 360 * 0.2);
    }

    [Fact]
    public void The_layout_has_the_edge_of_the_plate_and_its_holes()
    {
        var curves = DxfReader.Read(Files.Value["layout.dxf"], "layout.dxf").Value.Curves;
        Assert.Equal(260 * 200, Math.Abs(Assert.Single(curves, c => c.Layer == "PLATE").Path.SignedArea()), 6);
        Assert.Equal(4, curves.Count(c => c.Layer == "DOWEL"));
    }

    [Fact]
    public void The_sheet_tells_how_the_plate_is_put_together_and_used()
    {
        var text = Encoding.UTF8.GetString(Files.Value["shop-sheet.html"]);
        var sheet = XDocument.Parse(text["<!DOCTYPE html>".Length..].Trim());
        var section = Assert.Single(sheet.Descendants(), e => (string?)e.Attribute("id") == "plate").Parent!.Value;
        Assert.Contains("back to back", section, StringComparison.Ordinal);
        Assert.Contains("10.30", section, StringComparison.Ordinal);
        Assert.Contains("lift the cope straight off", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Set the cope half on its dowels", text, StringComparison.Ordinal);
    }
}
