using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>A cored bore in the files of a kit, for a bush of the pump's lever.</summary>
public sealed class CoreFilesTests
{
    private static readonly Lazy<Kit> Made = new(() => Bush(null));

    private static Kit Bush(ImpressionSettings? impressions)
    {
        static Feature Bar(string name, double half, double radius, CutKind cut) => new(
            name, null, [PlanPath.Polygon(new Vec2(-half, 0), new(half, 0), new(half, radius), new(-half, radius))], -radius, radius, cut, "job.toml, line 7", new(TurnedAxis.X, default));
        var job = new Job(
            "bush", "Bush of the lever", LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded",
            [Bar("bush", 25, 20, CutKind.None), Bar("bore", 26, 10, CutKind.Cored)], new(0), new(), [], [], [])
        {
            Cores = new(Print_mm: 30),
            Impressions = impressions,
        };
        return KitBuilder.Build(job, FoundryTables.Default);
    }

    private static readonly Lazy<Dictionary<string, byte[]>> Files = new(() => KitFiles.Render(Made.Value).ToDictionary(f => f.Name, f => f.Content));

    [Fact]
    public void Core_and_box_have_files_of_their_own_and_lie_beside_and_in_the_mould()
    {
        Assert.Superset(new HashSet<string> { "core-1.stl", "core-1-box-a.stl", "core-1-box-b.stl" }, Files.Value.Keys.ToHashSet());
        var bodies = ThreeMfReader.Read(Files.Value["kit.3mf"], "kit.3mf").Value.ToDictionary(b => b.Name, b => b.Mesh);
        // The core in its seats: about the axis of the bore, from end to end of the prints; the box is closed round its own cavity, clear of the pattern.
        var core = bodies["core-1"].Bounds();
        Assert.Equal(0, core.Low.X + core.High.X, 0.8);
        Assert.Equal(0, core.Low.Z + core.High.Z);
        Assert.True(bodies["core-1-box-a"].Bounds().Low.Y > bodies["cope"].Bounds().High.Y);
        Assert.Equal(bodies["core-1-box-a"].Bounds().Low.Z, bodies["core-1-box-b"].Bounds().High.Z);
        // STL as written: both halves hold the core.
        TriangleMesh Read(string name) => StlReader.Read(Files.Value[name], name).Value;
        var size = Read("core-1-box-a.stl").Bounds().Size;
        var dowels = Made.Value.Cores[0].Box.Dowels.Sum(d => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.005).Area * d.Depth_mm);
        var holds = (2 * size.X * size.Y * size.Z) - (2 * dowels) - Read("core-1-box-a.stl").Volume() - Read("core-1-box-b.stl").Volume();
        Assert.Equal(Read("core-1.stl").Volume(), holds, 5e-4 * holds);
    }

    // Measured on the file that is printed: its sides, and its dowel holes in a section just below the joint face.
    [Fact]
    public void The_drawing_of_the_box_has_its_sides_and_the_places_of_its_holes()
    {
        var svg = XElement.Parse(Encoding.UTF8.GetString(Files.Value["drawing-core-1-box-a.svg"]));
        var values = svg.Descendants().Where(e => e.Name.LocalName == "g" && (string?)e.Attribute("class") == "dimension").Select(g => g.Descendants().Single(e => e.Name.LocalName == "text").Value).ToArray();
        var box = StlReader.Read(Files.Value["core-1-box-a.stl"], "core-1-box-a.stl").Value;
        var bounds = box.Bounds();
        var holes = MeshSection.AtHeight(box, bounds.High.Z - 0.5).Select(l => PlanRegion.EvenOdd([PlanPath.Polygon(l.AsSpan())], 1)).Where(r => r.Area < 60).Select(r => r.Centroid).ToArray();
        Assert.Equal(2, holes.Length);
        double[] sizes = [bounds.Size.X, bounds.Size.Y, bounds.Size.Z, .. holes.SelectMany(h => new[] { h.X - bounds.Low.X, h.Y - bounds.Low.Y })];
        var told = values.Select(v => double.Parse(v.Split('\u00A0')[0], System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        Assert.All(sizes, s => Assert.Contains(told, t => Math.Abs(t - s) < 0.02));
        Assert.All(told, t => Assert.Contains(sizes, s => Math.Abs(t - s) < 0.02));
    }

    // Two bushes 90 mm apart: the second core is the first, 90 mm times the contraction along y, on the lattice of the bodies. Taken apart, the picture holds every body once and every core where it is set.
    [Fact]
    public void Each_casting_of_a_mould_has_its_cores_in_the_picture_of_the_kit()
    {
        var kit = Bush(new(2, [new(0, 0), new(0, 90)], "job.toml, line 5"));
        var cores = kit.Cores.SelectMany(c => c.InMould).ToArray();
        Assert.Equal(2, cores.Length);
        Assert.Equal(90 * kit.Scale, cores[1].Bounds().Low.Y - cores[0].Bounds().Low.Y, 1e-4);
        Assert.Equal(cores[0].Volume(), cores[1].Volume(), 1e-6 * cores[0].Volume());
        var (mesh, names) = Pictures.TakenApart.Of(kit)!.Value;
        var bodies = kit.Bodies.Concat(kit.Gating!.Bars.Select(b => b.Body)).Sum(b => b.AsPrinted.Volume()) + cores.Sum(c => c.Volume());
        Assert.Equal(bodies, mesh.Volume(), 1e-6 * bodies);
        Assert.Contains("2 of core-1", names);
    }

    [Fact]
    public void Json_tells_the_core_its_prints_and_its_box()
    {
        var root = JsonDocument.Parse(Files.Value["kit.json"]).RootElement;
        var core = Assert.Single(root.GetProperty("cores").EnumerateArray());
        Assert.Equal(("core-1", "bore", 1), (core.GetProperty("name").GetString(), core.GetProperty("leaves").GetString(), core.GetProperty("count").GetInt32()));
        Assert.Equal([30.0, 30], core.GetProperty("prints").EnumerateArray().Select(p => p.GetProperty("length_mm").GetDouble()));
        Assert.Equal(core.GetProperty("volume_mm3").GetDouble(), core.GetProperty("box").GetProperty("holds_mm3").GetDouble(), 5e-4 * core.GetProperty("volume_mm3").GetDouble());
        Assert.Equal(core.GetProperty("volume_mm3").GetDouble() * 1600e-9, core.GetProperty("sand_kg").GetDouble(), 1e-9);
        Assert.True(root.GetProperty("volume_bridge").GetProperty("prints_mm3").GetDouble() > 0);
        Assert.Contains(root.GetProperty("decisions").EnumerateArray(), d => d.GetProperty("key").GetString() == "core_1_print_left_mm" && d.GetProperty("rule").GetString() == "given in the job");
        Assert.Contains(root.GetProperty("cautions").EnumerateArray(), c => c.GetString()!.Contains("damp core", StringComparison.Ordinal));
    }

    [Fact]
    public void The_layout_has_the_core_in_plan()
    {
        var core = Made.Value.Cores[0].Body.InMould.Bounds().Size;
        var curve = Assert.Single(DxfReader.Read(Files.Value["layout.dxf"], "layout.dxf").Value.Curves, c => c.Layer == "CORE_PRINT");
        Assert.Equal(core.X * core.Y, Math.Abs(curve.Path.SignedArea()), 0.02 * core.X * core.Y);
    }

    [Fact]
    public void The_sheet_tells_how_the_core_is_made_and_what_its_prints_bear()
    {
        var text = Encoding.UTF8.GetString(Files.Value["shop-sheet.html"]);
        var sheet = XDocument.Parse(text["<!DOCTYPE html>".Length..].Trim());
        var section = Assert.Single(sheet.Descendants(), e => (string?)e.Attribute("id") == "cores").Parent!;
        Assert.Contains("strike the sand off", section.Value, StringComparison.Ordinal);
        Assert.Contains("left print", section.Value, StringComparison.Ordinal);
        Assert.Contains("30.00", section.Value, StringComparison.Ordinal);
        Assert.Equal(2, section.Descendants().Count(e => e.Name.LocalName == "image"));
        Assert.Contains("Core box: core-1-box-a", text, StringComparison.Ordinal);
        Assert.Contains("not to print", text, StringComparison.Ordinal);
    }
}
