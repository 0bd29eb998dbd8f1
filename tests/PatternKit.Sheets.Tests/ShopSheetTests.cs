using System.Text;
using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Html;

namespace PatternKit.Sheets.Tests;

/// <summary>The sheet is written as XML, so the XML reader is the check of its form.</summary>
public sealed class ShopSheetTests
{
    private static readonly XNamespace Xhtml = "http://www.w3.org/1999/xhtml";
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Fact]
    public void It_is_well_formed_and_names_its_language()
    {
        var root = Read(SampleKits.Frusta());
        Assert.Equal(Xhtml + "html", root.Name);
        Assert.Equal("en", root.Attribute("lang")?.Value);
    }

    // 25.4 mm to the inch (ISO 31-1, 1959 agreement): 3.9 mm are 0.1535 in, 415 mm³ are 0.025 in³.
    [Fact]
    public void Findings_of_an_inch_job_have_their_figures_in_inches()
    {
        var text = Read(SampleKits.Frusta(LengthUnit.Inch)).Value;
        Assert.Contains("0.1535\u00A0in (3.9\u00A0mm)", text, StringComparison.Ordinal);
        Assert.Contains("0.1772\u00A0in (4.5\u00A0mm)", text, StringComparison.Ordinal);
        Assert.Contains("0.025\u00A0in³ (415.0\u00A0mm³)", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_leader_goes_from_every_place_of_a_finding_to_its_number()
    {
        // Ten crowded at one side and one at the other; the one without a place has no leader, and its number is left out of the plan.
        Finding[] findings =
        [
            .. Enumerable.Range(0, 10).Select(i => new Finding("deep-hole", Severity.Warn, "A hole.", new Vec3(-20 + i, 5, 3))),
            new("no-draft", Severity.Warn, "A wall.", new Vec3(30, -10, 0)), new("pour-rate", Severity.Note, "All of it."),
        ];
        var kit = SampleKits.Frusta() with { Findings = [.. findings] };
        var root = Read(kit);
        var plan = Assert.Single(root.Descendants(Svg + "svg"), e => e.Element(Svg + "title")?.Value.Contains("11 findings", StringComparison.Ordinal) == true);
        var groups = plan.Elements(Svg + "g").Where(g => g.Elements(Svg + "circle").Any(c => (string?)c.Attribute("class") == "balloon")).ToArray();
        Assert.Equal(Enumerable.Range(1, 11).Select(i => $"{i}"), groups.Select(g => g.Element(Svg + "text")!.Value).OrderBy(int.Parse));
        double Of(XElement e, string name) => (double)e.Attribute(name)!;
        var balloons = groups.Select(g => g.Elements(Svg + "circle").Single(c => (string?)c.Attribute("class") == "balloon")).Select(c => new Vec2(Of(c, "cx"), Of(c, "cy"))).ToArray();
        // No number covers another, nor leaves the paper.
        Assert.All(balloons, (b, i) => Assert.All(balloons.Skip(i + 1), other => Assert.True(Vec2.Distance(b, other) >= 6)));
        var height = double.Parse(((string)plan.Attribute("viewBox")!).Split(' ')[3], System.Globalization.CultureInfo.InvariantCulture);
        Assert.All(balloons, b => Assert.True(b.Y >= 3 && b.Y <= height - 3));
        // Dots lie as far apart as the places do, times the kit's scale and that of the drawing.
        Vec2 Dot(int number) => groups.Where(g => g.Element(Svg + "text")!.Value == $"{number}").SelectMany(g => g.Elements(Svg + "circle"))
            .Where(c => (string?)c.Attribute("class") == "ink").Select(c => new Vec2(Of(c, "cx"), Of(c, "cy"))).Single();
        var ratio = Vec2.Distance(Dot(1), Dot(11)) / Vec2.Distance(new(-20, 5), new(30, -10));
        Assert.Equal(ratio * 9, Vec2.Distance(Dot(1), Dot(10)), 0.01);
        Assert.All(groups, g => Assert.Equal(Of(g.Element(Svg + "line")!, "x2"), Of(g.Elements(Svg + "circle").First(), "cx"), 1e-6));
    }

    [Fact]
    public void A_forced_kit_with_an_open_body_says_that_its_section_is_missing()
    {
        var kit = SampleKits.Frusta();
        var drag = kit.Bodies[1];
        var open = kit with { Bodies = kit.Bodies.SetItem(1, drag with { InMould = new(drag.InMould.Vertices, [.. drag.InMould.Facets.Where((_, i) => i % 5 != 0)]) }) };
        Assert.Contains("the drag half is not closed there", Read(open).Value, StringComparison.Ordinal);
        var templates = System.Text.Encoding.UTF8.GetString(KitFiles.Render(open).Single(f => f.Name == "templates.dxf").Content);
        Assert.Contains("the drag half is not closed there", templates, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("7.25\u00A0mm")]
    [InlineData("7.34\u00A0mm")]
    [InlineData("6.50\u00A0mm to 8.13\u00A0mm")]
    [InlineData("0.35\u00A0mm")]
    [InlineData("4\u202F321.5\u00A0mm³")]
    [InlineData("91\u202F234.6\u00A0mm³")]
    [InlineData("+1\u202F500.3\u00A0mm³")]
    [InlineData("\u2212410.1\u00A0mm³")]
    [InlineData("103\u202F543.2\u00A0mm³")]
    [InlineData("0.278\u00A0kg")]
    [InlineData("0.313\u00A0kg")]
    [InlineData("2\u202F680\u00A0kg/m³")]
    [InlineData("1.01300")]
    [InlineData("1.3\u00A0%")]
    [InlineData("1.5°")]
    [InlineData("2.75\u00A0mm")]
    [InlineData("1.50°")]
    [InlineData("2.89°")]
    [InlineData("50.40\u00A0mm")]
    [InlineData("51.06\u00A0mm")]
    [InlineData("50.41\u00A0mm ±\u00A00.65\u00A0mm")]
    [InlineData("no surface met there")]
    [InlineData("80.00 × 80.00 × 20.00\u00A0mm")]
    [InlineData("6.30\u00A0mm")]
    [InlineData("8.50\u00A0mm")]
    [InlineData("x\u00A012.50, y\u00A0\u22127.75, z\u00A03.25\u00A0mm")]
    [InlineData("Turn the part, or make the cut a cored one.")]
    [InlineData("A gap of 0.004 mm was closed.")]
    [InlineData("flange.dxf, line 57:")]
    [InlineData("Keep water away from molten metal.")]
    [InlineData("ISO 8062-3:2007, DCTG 11")]
    [InlineData("common practice")]
    public void It_shows_every_figure(string text) =>
        Assert.Contains(text, Read(SampleKits.Frusta()).Value, StringComparison.Ordinal);

    [Theory]
    [InlineData("0.285\u00A0in (7.25\u00A0mm)")]
    [InlineData("1.984\u00A0in (50.40\u00A0mm)")]
    [InlineData("0.1083\u00A0in (2.75\u00A0mm)")]
    [InlineData("0.612\u00A0lb (0.278\u00A0kg)")]
    public void A_job_in_inches_has_inches_first(string text) =>
        Assert.Contains(text, Read(SampleKits.Frusta(LengthUnit.Inch)).Value, StringComparison.Ordinal);

    [Fact]
    public void Severity_is_told_in_words_and_the_gravest_comes_first()
    {
        var words = Read(SampleKits.Frusta()).Descendants(Xhtml + "article").Select(a => a.Element(Xhtml + "h3")!.Value);
        Assert.Equal(["1 ■\u00A0Stop undercut", "2 ●\u00A0Note thin-section"], words);
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\"><img src=x onerror=alert(1)>")]
    [InlineData("]]></style><b>")]
    [InlineData("Στυπιοθλίπτης \u2013 Втулка № 2 & Ø30")]
    public void A_hostile_title_stays_text(string title)
    {
        var root = Read(SampleKits.Frusta(title: title));
        Assert.Equal(title, root.Descendants(Xhtml + "h1").Single().Value);
        Assert.Empty(root.Descendants(Xhtml + "script"));
        Assert.Empty(root.Descendants(Xhtml + "img"));
        Assert.Empty(root.Descendants(Xhtml + "b"));
    }

    [Fact]
    public void What_no_file_can_hold_is_replaced()
    {
        var root = Read(SampleKits.Frusta(title: "a\0b\u202Ec\uD800d\u0007"));
        Assert.Equal("a\uFFFDb\uFFFDc\uFFFDd\uFFFD", root.Descendants(Xhtml + "h1").Single().Value);
    }

    [Fact]
    public void A_title_of_two_hundred_letters_is_shown_whole()
    {
        var title = new string('W', 200);
        Assert.Equal(title, Read(SampleKits.Frusta(title: title)).Descendants(Xhtml + "h1").Single().Value);
    }

    [Fact]
    public void It_needs_nothing_from_elsewhere_and_runs_nothing()
    {
        var root = Read(SampleKits.Bracket());
        Assert.DoesNotContain(root.Descendants(), e => e.Name.LocalName is "script" or "link" or "iframe" or "object");
        Assert.DoesNotContain(root.Descendants().Attributes(), a => a.Name.LocalName.StartsWith("on", StringComparison.Ordinal));
        var links = root.Descendants().Attributes().Where(a => a.Name.LocalName is "href" or "src").Select(a => a.Value);
        Assert.All(links, l => Assert.StartsWith("data:image/png;base64,", l, StringComparison.Ordinal));
        var style = root.Descendants(Xhtml + "style").Single().Value;
        Assert.DoesNotContain("url(", style, StringComparison.Ordinal);
        Assert.DoesNotContain("@import", style, StringComparison.Ordinal);
        // What XML escapes, browsers would read literally within a style.
        Assert.DoesNotContain(style, c => c is '<' or '>' or '&');
    }

    [Fact]
    public void Headings_come_in_order_and_pictures_have_titles()
    {
        var root = Read(SampleKits.Bracket());
        var levels = root.Descendants().Select(e => e.Name.LocalName).Where(n => n.Length == 2 && n[0] == 'h' && char.IsDigit(n[1])).Select(n => n[1] - '0').ToList();
        Assert.Equal(1, levels[0]);
        Assert.Single(levels, 1);
        Assert.All(levels.Zip(levels.Skip(1)), pair => Assert.True(pair.Second <= pair.First + 1));
        var pictures = root.Descendants(Svg + "svg").Where(s => s.Attribute("aria-hidden") is null).ToList();
        Assert.Equal(8, pictures.Count);
        Assert.All(pictures, p => Assert.NotEqual("", p.Element(Svg + "title")!.Value));
        var ids = root.Descendants().Attributes("id").Select(a => a.Value).ToList();
        Assert.Equal(ids.Distinct(), ids);
        var named = root.Descendants().Attributes("aria-labelledby").SelectMany(a => a.Value.Split(' '));
        Assert.All(named, n => Assert.Contains(n, ids));
    }

    [Fact]
    public void No_element_but_the_void_ones_closes_itself()
    {
        // Browsers read <td /> as an open cell. Within SVG they close it.
        var text = Encoding.UTF8.GetString(ShopSheet.Write(SampleKits.Bracket()));
        Assert.DoesNotMatch("<(?!meta|br|path|rect|line|circle|image)[a-z0-9]+(?: [^<>]*)?/>", text);
    }

    [Fact]
    public void The_revision_follows_the_inputs_and_nothing_else()
    {
        var kit = SampleKits.Frusta();
        var other = kit with { Job = kit.Job with { Inputs = [kit.Job.Inputs[0] with { Sha256 = new string('c', 64) }, kit.Job.Inputs[1]] } };
        Assert.Equal(Revision(kit), Revision(kit with { Metal = kit.Metal with { Pour_kg = 9 } }));
        Assert.NotEqual(Revision(kit), Revision(other));
    }

    [Fact]
    public void A_kit_without_bodies_still_has_a_sheet()
    {
        var kit = SampleKits.Frusta();
        var root = Read(kit with { Bodies = [], Dowels = [], Measures = [], Findings = [], Decisions = [], Cautions = [], Plan = new(PlanRegion.Empty, PlanRegion.Empty, [], []) });
        Assert.Contains("nothing to print", root.Value, StringComparison.Ordinal);
        Assert.Contains("Moisture under it explodes", root.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_letter_colour_stands_out_from_paper_and_tint()
    {
        // WCAG 2.2, success criterion 1.4.3: contrast of at least 4.5 to 1.
        var style = Read(SampleKits.Frusta()).Descendants(Xhtml + "style").Single().Value;
        var colours = Regex.Matches(style, @"(?:[^-]color|--ink|--soft): (#[0-9a-f]{6})").Select(m => m.Groups[1].Value).Distinct().ToList();
        Assert.True(colours.Count >= 5);
        foreach (var paper in new[] { "#ffffff", "#f3f5f7" })
            Assert.All(colours, c => Assert.True((Luminance(paper) + 0.05) / (Luminance(c) + 0.05) >= 4.5, c));
    }

    // Relative luminance as WCAG 2.2 defines it.
    private static double Luminance(string colour)
    {
        var parts = Enumerable.Range(0, 3).Select(i => Convert.ToInt32(colour.Substring(1 + (2 * i), 2), 16) / 255.0)
            .Select(v => v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4)).ToArray();
        return (0.2126 * parts[0]) + (0.7152 * parts[1]) + (0.0722 * parts[2]);
    }

    private static string Revision(Kit kit) => Read(kit).Descendants(Xhtml + "dd").Last(d => d.Parent!.Value.StartsWith("Revision", StringComparison.Ordinal)).Value;

    private static XElement Read(Kit kit)
    {
        var text = Encoding.UTF8.GetString(ShopSheet.Write(kit));
        Assert.StartsWith("<!DOCTYPE html>\n", text, StringComparison.Ordinal);
        using var reader = XmlReader.Create(new StringReader(text["<!DOCTYPE html>\n".Length..]), new XmlReaderSettings { CheckCharacters = true });
        return XElement.Load(reader);
    }
}
