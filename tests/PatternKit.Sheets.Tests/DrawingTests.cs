using System.Collections.Immutable;
using System.Text;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
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
        var (plane, arrows) = (svg.Descendants(Svg + "text").First(t => t.Value == "A"), svg.Descendants(Svg + "text").Single(t => t.Value.StartsWith("pattern sizes", StringComparison.Ordinal)));
        var seen = svg.Elements(Svg + "path").Where(p => (string?)p.Attribute("class") == "visible").SelectMany(p => ((string)p.Attribute("d")!).TrimStart('M').Split('L')).Select(p => double.Parse(p.Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        var middle = (seen.Min() + seen.Max()) / 2;
        Assert.Equal(angle == ViewAngle.First, (double)plane.Attribute("y")! > middle);
        Assert.True((double)arrows.Attribute("y")! > seen.Max());
    }

    // ISO 128-3: a chain line with wide ends, an arrow in the direction of sight and the letter at both. The bracket is longer along x, so that its section is seen from the front, along +y, which is up in the plan.
    [Fact]
    public void The_plane_of_a_section_is_marked_at_both_ends()
    {
        var svg = GeneralDrawing.Draw(SampleKits.Bracket(), new(LengthUnit.Millimetre))!;
        double Of(XElement e, string name) => (double)e.Attribute(name)!;
        var ends = svg.Descendants(Svg + "line").Where(l => (string?)l.Attribute("class") == "cut-end").ToArray();
        Assert.Equal(2, ends.Length);
        Assert.True(DrawingStyle.Of("cut-end").Width_mm >= 2 * DrawingStyle.Of("centre").Width_mm);
        var letters = svg.Descendants(Svg + "text").Where(t => t.Value == SectionView.Letter).ToArray();
        Assert.Equal(2, letters.Length);
        var level = Of(ends[0], "y1");
        Assert.All(ends, e => Assert.Equal((level, level), (Of(e, "y1"), Of(e, "y2"))));
        // Whose tip touches the line, whose tail and letter are before it.
        Assert.All(letters, l => Assert.True(Of(l, "y") > level + 6));
        var arrows = ends[0].Parent!.Elements(Svg + "path").Select(p => ((string)p.Attribute("d")!).Split('L')[0].TrimStart('M').Split(' ').Select(n => double.Parse(n, System.Globalization.CultureInfo.InvariantCulture)).ToArray()).ToArray();
        Assert.Equal(2, arrows.Length);
        Assert.All(arrows, a => Assert.Equal(level, a[1], 1e-6));
        Assert.All(arrows.Zip(ends), p => Assert.InRange(p.First[0], Math.Min(Of(p.Second, "x1"), Of(p.Second, "x2")), Math.Max(Of(p.Second, "x1"), Of(p.Second, "x2"))));
    }

    // Fields of ISO 7200:2004: title, supplementary title, identification number, revision index, date of issue, sheet number.
    [Fact]
    public void Every_drawing_has_a_title_block_and_they_are_numbered_in_their_order()
    {
        var kit = SampleKits.Bracket();
        var drawings = Html.ShopSheet.Document(kit).Descendants(Svg + "svg").Where(s => (string?)s.Attribute("class") == "drawing").ToArray();
        Assert.True(drawings.Length >= 4);
        string[] fields = ["Title", "Supplementary title", "Identification number", "Revision index, of the input", "Date of issue", "Sheet number", "Scale at full size", "First-angle projection", "Dimensions", "Tolerances of the casting", "Material"];
        Assert.All(drawings, d => Assert.Superset(fields.ToHashSet(), d.Descendants(Svg + "text").Select(t => t.Value).ToHashSet()));
        Assert.All(drawings, d => Assert.Contains(d.Descendants(Svg + "text"), t => t.Value == Texts.Revision.Of(kit.Job)));
        Assert.Equal(Enumerable.Range(1, drawings.Length).Select(i => $"{i} of {drawings.Length}"), drawings.Select(d => d.Descendants(Svg + "text").Single(t => (string?)t.Attribute("class") == "sheet-number").Value));
    }

    // Two things found on the cope, one on the drag, one nowhere; the joint lies at z 7.34 of the pattern, the drag is printed upside down.
    [Fact]
    public void Findings_stand_on_the_picture_of_the_half_that_they_lie_on()
    {
        var kit = SampleKits.Frusta();
        Finding At(Vec3? at) => new("thin-section", Severity.Note, "thin", at, 1, 2, "common practice", "Thicken it.", "mm");
        var shown = FindingPictures.Of(kit, [At((1 / kit.Scale) * new Vec3(0, 0, 27.3)), At((1 / kit.Scale) * new Vec3(0, 0, -2.6)), At(null), At((1 / kit.Scale) * new Vec3(30, -20, 20))])!.Value.Shown;
        Assert.Equal([(MouldHalf.Cope, "1 4"), (MouldHalf.Drag, "2")], shown.Select(s => (s.Half, string.Join(' ', s.Numbers))));
        Assert.Null(FindingPictures.Of(kit, [At(null)]));
        var places = kit.Bodies.Select(b => b.Printed(new(30, -20, 0))).ToArray();
        Assert.Equal([new Vec3(30, -20, -7.34), new Vec3(30, 20, 7.34)], places);
    }

    // A face that looks up is seen, and what lies deeper in the metal than a skin is not; along the line of sight, at 36° to the face, 1 mm of metal is 1.7 mm.
    [Theory]
    [InlineData(20, true)]
    [InlineData(19, true)]
    [InlineData(10, false)]
    public void A_place_under_a_thin_skin_counts_as_seen(double z, bool isSeen)
    {
        var mesh = Box(new(0, 0, 0), new(60, 60, 20));
        var none = new Hatch[mesh.Facets.Length];
        var panel = PicturePanel.Of("", mesh, Camera.Above, 300, none, null, [(1, System.Collections.Frozen.FrozenSet<int>.Empty, new Vec3(30, 30, z))], 2);
        Assert.Equal(isSeen, Assert.Single(panel.Marks).IsSeen);
    }

    // By definition: 1 in = 25.4 mm and 1 lb = 0.45359237 kg (1959). NIST SP 811, appendix B: 1 lbf = 4.448222 N, 1 psi = 6.894757 kPa, 1 US gal = 3.785412 l, 1 lb/ft³ = 16.01846 kg/m³, 100 °C = 212 °F.
    [Theory]
    [InlineData(44.48222, "N", "10.0 lbf (44.4822 N)")]
    [InlineData(68.94757, "kPa", "10.00 psi (68.9476 kPa)")]
    [InlineData(37.85412, "l", "10.00 US gal (37.8541 l)")]
    [InlineData(160.1846, "kg/m³", "10.0 lb/ft³ (160.1846 kg/m³)")]
    [InlineData(100, "°C", "212 °F (100 °C)")]
    [InlineData(645.16, "mm²", "1.000 in² (645.16 mm²)")]
    [InlineData(0.3048, "m/s", "1.00 ft/s (0.3048 m/s)")]
    [InlineData(0.45359237, "kg/s", "1.0 lb/s (0.4536 kg/s)")]
    [InlineData(3, "s", "3 s")]
    public void A_job_in_inches_has_customary_units_first(double value, string unit, string shown)
    {
        Assert.Equal(shown, new Texts.SheetNumbers(LengthUnit.Inch).WithUnit(value, unit).Replace('\u00A0', ' '));
        Assert.DoesNotContain("(", new Texts.SheetNumbers(LengthUnit.Millimetre).WithUnit(value, unit), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_class_of_a_drawing_has_a_style()
    {
        var known = DrawingStyle.All.Keys.Concat(["drawing", "dimension", "origin", "scale-bar", "sheet-number"]).ToHashSet();
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
