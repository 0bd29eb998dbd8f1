using System.Collections.Immutable;
using System.Text;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Plans;

namespace PatternKit.Sheets.Tests;

/// <summary>The drawings and the files for machines.</summary>
public sealed class DrawingTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    // A box behind a smaller box, seen along −y: of the larger one the outline shows (4 edges), of the smaller one too; the back one's near edges are covered.
    [Fact]
    public void Edges_that_a_body_covers_are_hidden()
    {
        var (front, back) = (Box(new(-10, 0, -10), new(10, 5, 10)), Box(new(-4, 20, -4), new(4, 25, 4)));
        var view = LineView.Of([EdgedMesh.Of(front), EdgedMesh.Of(back)], new(1, 0, 0), new(0, 0, 1), (_, _) => false);
        Assert.Equal((new Vec2(-10, -10), new Vec2(10, 10)), (view.Low, view.High));
        Assert.Equal(80, Length(view.Seen), 0.5);
        // Near and far edges of the small box fall together, so that one of both is drawn.
        Assert.Equal(32, Length(view.Hidden), 0.5);
        Assert.All(view.Hidden.SelectMany(l => l), p => Assert.Equal(4, Math.Max(Math.Abs(p.X), Math.Abs(p.Y)), 0.1));
    }

    [Fact]
    public void Seen_from_the_other_side_nothing_is_hidden_of_the_smaller_box()
    {
        var (front, back) = (Box(new(-10, 0, -10), new(10, 5, 10)), Box(new(-4, 20, -4), new(4, 25, 4)));
        var view = LineView.Of([EdgedMesh.Of(front), EdgedMesh.Of(back)], new(-1, 0, 0), new(0, 0, 1), (_, _) => false);
        Assert.Equal(80 + 32, Length(view.Seen), 1);
        Assert.Equal(0, Length(view.Hidden), 0.5);
    }

    // Lines 2.5 mm apart at 45° over a square of 20 mm: their lengths times the spacing are about its area; none leaves it.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Hatching_fills_the_section_and_stays_in_it(bool rising)
    {
        var sheet = new PlanSheet(new(0, 0), new(20, 20), new(1), 0, 0);
        Vec2[] square = [new(0, 0), new(20, 0), new(20, 20), new(0, 20)], hole = [new(5, 5), new(15, 5), new(15, 15), new(5, 15)];
        var lines = Hatching.Lines(sheet, [square, hole], rising).Select(l => new[] { "x1", "y1", "x2", "y2" }.Select(a => (double)l.Attribute(a)!).ToArray()).ToArray();
        Assert.Equal(300, 2.5 * lines.Sum(l => Math.Sqrt(Math.Pow(l[2] - l[0], 2) + Math.Pow(l[3] - l[1], 2))), 20.0);
        Assert.All(lines, l => Assert.Equal(rising ? -1 : 1, (l[3] - l[1]) / (l[2] - l[0]), 0.01));
        Assert.All(lines.SelectMany(l => new[] { (l[0], l[1]), (l[2], l[3]) }), p => Assert.InRange(Math.Max(Math.Abs(p.Item1 - 10), Math.Abs(p.Item2 - 10)), 4.99, 10.01));
    }

    // ISO 5456-2: in first angle the plan stands below the front, in third above it.
    [Theory]
    [InlineData(ViewAngle.First, "view from the left")]
    [InlineData(ViewAngle.Third, "view from the right")]
    public void Views_stand_as_the_projection_says(ViewAngle angle, string side)
    {
        var kit = SampleKits.Bracket();
        var svg = GeneralDrawing.Draw(kit with { Job = kit.Job with { Projection = angle } }, new(LengthUnit.Millimetre))!;
        Assert.Contains(side, svg.Element(Svg + "title")!.Value, StringComparison.Ordinal);
        Assert.Contains(svg.Descendants(Svg + "text"), t => t.Value == (angle == ViewAngle.First ? "First-angle projection" : "Third-angle projection"));
        // The bracket's plan is as high as it is deep, 120 × 60 mm: the frame of views has its cutting plane in the plan.
        var (plane, arrows) = (svg.Descendants(Svg + "text").Single(t => t.Value == "A"), svg.Descendants(Svg + "text").Single(t => t.Value.StartsWith("pattern sizes", StringComparison.Ordinal)));
        var seen = svg.Elements(Svg + "path").Where(p => (string?)p.Attribute("class") == "visible").SelectMany(p => ((string)p.Attribute("d")!).TrimStart('M').Split('L')).Select(p => double.Parse(p.Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        var middle = (seen.Min() + seen.Max()) / 2;
        Assert.Equal(angle == ViewAngle.First, (double)plane.Attribute("y")! > middle);
        Assert.True((double)arrows.Attribute("y")! > seen.Max());
    }

    [Fact]
    public void Every_class_of_a_drawing_has_a_style()
    {
        var known = DrawingStyle.All.Keys.Concat(["drawing", "dimension", "origin", "scale-bar"]).ToHashSet();
        var kits = new[] { SampleKits.Bracket(), SampleKits.Frusta() };
        var used = kits.SelectMany(k => Html.ShopSheet.Document(k).Descendants().Where(e => e.Name.Namespace == Svg)).Select(e => (string?)e.Attribute("class")).OfType<string>().Distinct();
        Assert.All(used, u => Assert.Contains(u, known));
    }

    // ISO 128-2: the wide line is twice the narrow one, or more.
    [Fact]
    public void Wide_lines_are_at_least_twice_as_wide_as_narrow_ones()
    {
        Assert.True(DrawingStyle.Of("visible").Width_mm >= 2 * DrawingStyle.Of("hidden").Width_mm);
        Assert.True(DrawingStyle.Of("visible").Width_mm >= 2 * DrawingStyle.Of("thin").Width_mm);
        Assert.True(DrawingStyle.Of("visible").Width_mm >= 2 * DrawingStyle.Of("hatch").Width_mm);
    }

    // Two dowel holes of 6.3 mm in either joint; frusta of 48 sides: what is cut has the area of the polygons, 24 r² sin 7.5°.
    [Fact]
    public void Files_for_machines_part_lines_by_purpose()
    {
        var kit = SampleKits.Frusta();
        var files = KitFiles.Render(kit).ToDictionary(f => f.Name, f => f.Content);
        var drawing = DxfReader.Read(files["cutting.dxf"], "cutting.dxf").Value;
        Assert.Equal(DxfUnit.Millimetre, drawing.Unit);
        Assert.Equal(["CUT", "DRILL", "ENGRAVE"], drawing.Curves.Select(c => c.Layer).Distinct().Order());
        var areas = drawing.Curves.Where(c => c.Layer == "CUT").Select(c => Math.Abs(c.Path.SignedArea())).ToArray();
        foreach (var r in new[] { 40, 38, 39 }) Assert.Contains(areas, a => Math.Abs(a - (24 * r * r * Math.Sin(Math.PI / 24))) < 0.5);
        Assert.All(drawing.Curves.Where(c => c.Layer == "DRILL"), c => Assert.Equal(Math.PI * 3.15 * 3.15, Math.Abs(c.Path.SignedArea()), 1e-6));
        var svg = XElement.Parse(Encoding.UTF8.GetString(files["cutting.svg"]).Split("?>")[1]);
        Assert.Equal(["cut", "drill", "engrave"], svg.Elements(Svg + "g").Select(g => (string)g.Attribute("id")!));
        Assert.Equal(drawing.Curves.Count(c => c.Layer == "DRILL"), svg.Elements(Svg + "g").ElementAt(1).Elements(Svg + "circle").Count());
        // Its unit is the millimetre, and it says what becomes of the kerf.
        Assert.Equal(((string)svg.Attribute("viewBox")!).Split(' ')[2] + "mm", (string)svg.Attribute("width")!);
        Assert.Contains("Kerf 0", svg.Element(Svg + "title")!.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Drawings_stand_in_files_of_their_own_and_pictures_as_they_are_in_the_sheet()
    {
        var files = KitFiles.Render(SampleKits.Bracket()).ToDictionary(f => f.Name, f => f.Content);
        foreach (var name in new[] { "drawing-general.svg", "drawing-plan.svg", "drawing-section.svg", "drawing-places.svg" })
        {
            var svg = XElement.Parse(Encoding.UTF8.GetString(files[name]).Split("?>")[1]);
            Assert.Contains(".visible {", svg.Element(Svg + "style")!.Value, StringComparison.Ordinal);
            Assert.NotEmpty(svg.Descendants(Svg + "path"));
        }

        Assert.Contains(Convert.ToBase64String(files["picture-cope.png"]), Encoding.UTF8.GetString(files["shop-sheet.html"]), StringComparison.Ordinal);
    }

    private static double Length(IEnumerable<ImmutableArray<Vec2>> lines) => lines.Sum(l => l.Zip(l.Skip(1), Vec2.Distance).Sum());

    private static TriangleMesh Box(Vec3 low, Vec3 high)
    {
        ImmutableArray<Vec3> corners = [.. Enumerable.Range(0, 8).Select(i => new Vec3((i & 1) == 0 ? low.X : high.X, (i & 2) == 0 ? low.Y : high.Y, (i & 4) == 0 ? low.Z : high.Z))];
        (int, int, int, int)[] sides = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)];
        return new(corners, [.. sides.SelectMany(s => new Facet[] { new(s.Item1, s.Item2, s.Item3), new(s.Item1, s.Item3, s.Item4) })]);
    }
}
