using System.Text;
using System.Text.Json;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>The files of a kit whose prints grow until they are finished, for a cover of the pump house.</summary>
public sealed class InsetFilesTests
{
    private static readonly Lazy<(Kit Kit, Dictionary<string, byte[]> Files)> Made = new(() =>
    {
        var outline = PlanPath.Polygon(new Vec2(0, 0), new(80, 0), new(80, 50), new(0, 50));
        var job = new Job(
            "cover", "Cover of the pump house", LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded",
            [new("cover", null, [outline], 0, 12, CutKind.None, "job.toml, line 7")], new(0), new(), [], [], [])
        {
            Gating = new(Wanted: false),
        };
        var kit = KitBuilder.Build(job, FoundryTables.Default.With("[printer]\noversize_mm = 0.1\nfinish_mm = 0.15\nfirst_layer_flare_mm = 0.2\nfirst_layer_mm = 0.3\n", "shop.toml"));
        return (kit, KitFiles.Render(kit).ToDictionary(f => f.Name, f => f.Content));
    });

    [Fact]
    public void Mesh_files_have_the_smaller_body_and_kit_json_says_by_how_much()
    {
        var (kit, files) = Made.Value;
        var body = Assert.Single(kit.Bodies);
        var stl = StlReader.Read(files[body.FileName], body.FileName).Value;
        var whole = ThreeMfReader.Read(files["kit.3mf"], "kit.3mf").Value.Single(b => b.Name == body.Name).Mesh;
        Assert.Equal(body.AsPrinted.Bounds().High.Z - 0.25, stl.Bounds().High.Z, 1e-4);
        Assert.Equal(stl.Volume(), whole.Volume(), 1e-5 * stl.Volume());
        var told = JsonDocument.Parse(files["kit.json"]).RootElement.GetProperty("bodies").EnumerateArray().Single(b => b.GetProperty("name").GetString() == body.Name);
        Assert.Equal(body.AsPrinted.Volume(), told.GetProperty("volume_mm3").GetDouble(), 1e-3);
        var file = told.GetProperty("in_file");
        Assert.Equal(stl.Volume(), file.GetProperty("volume_mm3").GetDouble(), 1e-5 * stl.Volume());
        Assert.Equal((0.25, 0.1, 0.2), (file.GetProperty("taken_off_mm").GetDouble(), file.GetProperty("taken_off_upright_mm").GetDouble(), file.GetProperty("edge_cut_back_mm").GetDouble()));
        Assert.Equal(stl.Facets.Length, file.GetProperty("triangles").GetInt32());
    }

    [Fact]
    public void The_sheet_says_what_was_taken_off_and_what_the_edge_lost()
    {
        var html = Encoding.UTF8.GetString(Made.Value.Files["shop-sheet.html"]).Replace('\u00a0', ' ').Replace('\u202f', ' ');
        Assert.Contains("smaller than the finished bodies", html, StringComparison.Ordinal);
        Assert.Contains("0.15 mm for filler and paint", html, StringComparison.Ordinal);
        Assert.Contains("The edge there is cut back for the first layer", html, StringComparison.Ordinal);
    }
}
