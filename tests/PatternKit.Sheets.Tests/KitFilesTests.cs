using System.Text;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>The kit as a whole; drawings are read back with the DXF reader of the product.</summary>
public sealed class KitFilesTests
{
    [Fact]
    public void The_files_are_those_of_the_contract() =>
        Assert.Equal(
            [
                "cope.stl", "drag.stl", "kit.3mf", "parting.dxf", "templates.dxf", "layout.dxf", "templates-a4.pdf", "templates-letter.pdf", "cutting.dxf", "cutting.svg",
                "shop-sheet.html", "shop-sheet.pdf", "kit.json",
                "picture-findings.png", "drawing-places.svg", "picture-kit.png", "picture-cope.png", "picture-drag.png", "drawing-general.svg", "drawing-plan.svg", "drawing-section.svg",
            ],
            KitFiles.Render(SampleKits.Frusta()).Select(f => f.Name));

    [Fact]
    public void An_empty_half_has_no_file()
    {
        var kit = SampleKits.Frusta();
        var names = KitFiles.Render(kit with { Bodies = [kit.Bodies[0]] }).Select(f => f.Name);
        Assert.Contains("cope.stl", names);
        Assert.DoesNotContain("drag.stl", names);
    }

    [Fact]
    public void The_same_kit_gives_the_same_bytes()
    {
        var first = KitFiles.Render(SampleKits.Bracket());
        var second = KitFiles.Render(SampleKits.Bracket());
        Assert.All(first.Zip(second), pair => Assert.Equal(pair.First.Content, pair.Second.Content));
    }

    [Fact]
    public void No_file_tells_a_folder_of_the_machine() =>
        Assert.All(KitFiles.Render(SampleKits.Frusta()), f => Assert.DoesNotContain("somewhere", Encoding.UTF8.GetString(f.Content), StringComparison.Ordinal));

    [Fact]
    public void The_parting_drawing_has_true_circles_for_dowels()
    {
        var drawing = Read(SampleKits.Bracket(), "parting.dxf");
        Assert.Equal(1, drawing.MillimetresPerUnit);
        var dowels = drawing.Curves.Where(c => c.Layer == "DOWEL").ToList();
        Assert.Equal(2, dowels.Count);
        Assert.All(dowels, d => Assert.Equal(Math.PI * 3.15 * 3.15, d.Path.SignedArea(), 1e-9));
        Assert.Equal(4, drawing.Curves.Count(c => c.Layer == "CENTRE"));
    }

    [Fact]
    public void The_outline_has_the_arcs_and_the_area_that_the_plan_has()
    {
        var kit = SampleKits.Bracket();
        var outline = Assert.Single(Read(kit, "parting.dxf").Curves, c => c.Layer == "OUTLINE_COPE").Path;
        Assert.Equal(8, outline.SegmentCount);
        // Rounded rectangle 120 x 60, corners 12, all grown by 12 tan 2°.
        var grown = 12 * Math.Tan(2 * Math.PI / 180);
        var (w, h, r) = (120 + (2 * grown), 60 + (2 * grown), 12 + grown);
        Assert.Equal((w * h) - ((4 - Math.PI) * r * r), outline.SignedArea(), 1e-6);
        Assert.Single(Read(kit, "parting.dxf").Curves, c => c.Layer == "OUTLINE_DRAG");
        Assert.Single(Read(kit, "parting.dxf").Curves, c => c.Layer == "PARTING");
    }

    [Fact]
    public void Templates_have_the_section_of_the_body_at_each_flat_level()
    {
        var kit = SampleKits.Frusta();
        var sections = Read(kit, "templates.dxf").Curves.Where(c => c.Layer == "SECTION").ToList();
        Assert.Equal(2, sections.Count);
        // The tops of the frusta: regular 48-gons, area 24 r² sin 7.5°. The fit may leave out corners by 0.0025 mm,
        // and sections are taken a micrometre short of the top.
        double[] radii = [38, 39];
        Assert.Equal(
            radii.Select(r => 24 * r * r * Math.Sin(Math.PI / 24)),
            sections.Select(s => Math.Abs(s.Path.SignedArea())), (a, b) => Math.Abs(a - b) < 0.1);
    }

    [Fact]
    public void Templates_lie_side_by_side()
    {
        var drawing = Read(SampleKits.Bracket(), "templates.dxf");
        var boxes = drawing.Curves.Where(c => c.Layer is "SECTION" or "OUTLINE_COPE" or "OUTLINE_DRAG")
            .Select(c => c.Path.Flatten(0.1)).Select(p => (Low: p.Min(v => v.X), High: p.Max(v => v.X), Inner: p)).ToList();
        var stations = boxes.Select(b => Math.Floor((b.Low + 2) / 140.8)).Distinct().ToList();
        Assert.Equal([0, 1, 2, 3, 4], stations.Order());
    }

    [Theory]
    [InlineData("<script>", "<script>")]
    [InlineData("50%%d off", "50% %d off")]
    [InlineData("a\nb\0c", "a b\uFFFDc")]
    public void A_hostile_title_does_not_break_a_drawing(string title, string shown)
    {
        var bytes = Content(SampleKits.Frusta(title: title), "parting.dxf");
        Assert.NotEmpty(DxfReader.Read(bytes, "parting.dxf").Value.Curves);
        // The writer's release is UTF-8 throughout.
        Assert.Contains("\n" + shown, Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
    }

    [Fact]
    public void The_mesh_file_of_a_half_holds_its_facets()
    {
        var kit = SampleKits.Frusta();
        var bytes = Content(kit, "cope.stl");
        Assert.Equal(84 + (50 * kit.Bodies[0].AsPrinted.Facets.Length), bytes.Length);
        Assert.StartsWith("cope, millimetres", Encoding.ASCII.GetString(bytes[..80]), StringComparison.Ordinal);
    }

    private static DxfDrawing Read(Kit kit, string name) => DxfReader.Read(Content(kit, name), name).Value;

    private static byte[] Content(Kit kit, string name) => KitFiles.Render(kit).Single(f => f.Name == name).Content;
}
