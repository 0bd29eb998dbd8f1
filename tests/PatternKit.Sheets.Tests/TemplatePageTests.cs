using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>Templates at full size, measured in the page content by pdf.js, a reader outside the project.</summary>
public sealed class TemplatePageTests
{
    private const double Reading_mm = 0.01;

    [Theory]
    [InlineData("templates-a4.pdf", 210, 297)]
    [InlineData("templates-letter.pdf", 215.9, 279.4)]
    public void What_is_to_be_measured_before_cutting_is_as_long_as_it_says(string file, double width, double height)
    {
        var pages = Pages(SampleKits.Frusta(), file);
        Assert.All(pages, p => Assert.Equal((width, height), (Math.Round(p.Width, 1), Math.Round(p.Height, 1))));
        Assert.All(pages, p => Assert.Contains(p.Paths, l => l.Height < Reading_mm && Math.Abs(l.Width - 150) < Reading_mm));
        Assert.All(pages, p => Assert.Contains(p.Texts, t => t.Text.Contains("150\u00A0mm", StringComparison.Ordinal) || t.Text.Contains("150 mm", StringComparison.Ordinal)));
        Assert.Contains(pages[0].Paths, l => Math.Abs(l.Width - 100) < Reading_mm && Math.Abs(l.Height - 100) < Reading_mm);
    }

    // Frusta on regular 48-gons: the sections at the joint have their corners on a circle of 40 mm, those of the tops on circles of 38 and 39 mm. Sections are taken a micrometre short of a top.
    // ISO 32000-1, 9.9: a TrueType font that is in the file stands in a FontFile2 entry of its descriptor. The semi-bold one is not used.
    [Fact]
    public void Templates_have_one_face_in_the_file()
    {
        var pdf = System.Text.Encoding.Latin1.GetString(KitFiles.Render(SampleKits.Frusta()).Single(f => f.Name == "templates-a4.pdf").Content);
        Assert.Single(System.Text.RegularExpressions.Regex.Matches(pdf, "/FontFile2"));
    }

    [Fact]
    public void Outlines_are_the_sections_of_the_bodies()
    {
        var rounds = Pages(SampleKits.Frusta(), "templates-a4.pdf").SelectMany(p => p.Paths).Where(p => p.Points.Length >= 48 && p.Width > 70).ToArray();
        Assert.Equal([38.0, 39.0, 40.0, 40.0], rounds.Select(r => Math.Round(r.Width / 2, 2)).Order());
        Assert.All(rounds, r =>
        {
            var (x, y) = ((r.Points.Max(p => p[0]) + r.Points.Min(p => p[0])) / 2, (r.Points.Max(p => p[1]) + r.Points.Min(p => p[1])) / 2);
            var radius = Math.Round(r.Width / 2);
            Assert.All(r.Points, p => Assert.Equal(radius, Math.Sqrt(((p[0] - x) * (p[0] - x)) + ((p[1] - y) * (p[1] - y))), 0.02));
        });
    }

    // A contraction rule is longer by the contraction: 200 mm read on it are 200 × 1.013 mm (what such a rule is, by any handbook of pattern making).
    [Fact]
    public void The_contraction_rule_is_longer_than_true_by_the_contraction()
    {
        var ticks = Ticks(SampleKits.Frusta());
        Assert.Equal([200, 202.6], ticks.Select(t => Math.Round(t[^1] - t[0], 2)).Order());
        Assert.All(ticks, t => Assert.Equal(201, t.Length));
    }

    // 8 in of sixteenths: 128 divisions; 8 in are 203.2 mm.
    [Fact]
    public void A_job_in_inches_has_a_rule_in_inches()
    {
        var ticks = Ticks(SampleKits.Frusta(LengthUnit.Inch));
        Assert.Equal([203.2, 205.84], ticks.Select(t => Math.Round(t[^1] - t[0], 2)).Order());
        Assert.All(ticks, t => Assert.Equal(129, t.Length));
    }

    // As cast 50.41 ± 0.65 mm: goes at 51.06, does not at 49.76; of a hole the other way round.
    [Theory]
    [InlineData(true, 51.06, 49.76)]
    [InlineData(false, 49.76, 51.06)]
    public void A_gauge_has_both_limits_of_the_casting(bool outer, double goes, double doesNot)
    {
        var kit = SampleKits.Frusta();
        var page = Pages(kit with { Measures = [kit.Measures[0] with { IsOuter = outer }] }, "templates-a4.pdf").Single(p => p.Texts.Any(t => t.Text.StartsWith("gauge of", StringComparison.Ordinal)));
        var gauge = page.Paths.Single(p => p.Points.Length > 8 && Math.Abs(p.Height - 46) < Reading_mm);
        var top = gauge.Points.Min(p => p[1]);
        // Upright sides by the height that they begin or end at.
        double Between(double y) => gauge.Points.Where(p => Math.Abs(p[1] - y) < Reading_mm).Select(p => Math.Round(p[0], 4)).Distinct().Order().ToArray() is var xs && outer ? xs[^2] - xs[1] : xs[^1] - xs[0];
        Assert.Equal(goes, Between(top), 0.01);
        Assert.Equal(doesNot, Between(top + 46), 0.01);
        Assert.Contains(page.Texts, t => t.Text.Contains("above: goes", StringComparison.Ordinal) && t.Text.Contains($"{goes:0.00}", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("templates-a4.pdf")]
    [InlineData("templates-letter.pdf")]
    public void Tiles_meet_at_their_crosses_and_leave_nothing_out(string file)
    {
        var pages = Pages(Large(450), file);
        var tiles = pages.Where(p => p.Texts.Any(t => t.Text.StartsWith("cope at the joint: row", StringComparison.Ordinal))).Select(Tile).ToArray();
        Assert.True(tiles.Length > 10);
        var neighbours = 0;
        foreach (var a in tiles)
            foreach (var b in tiles.Where(b => (b.Row == a.Row && b.Column == a.Column + 1) || (b.Column == a.Column && b.Row == a.Row + 1)))
            {
                neighbours++;
                Assert.Equal(3, a.Crosses.Count(c => b.Crosses.Any(d => Vec2.Distance(c, d) < 0.02)));
            }

        Assert.True(neighbours > 10);
        // Every corner of the outline, a regular 48-gon of 450 mm, is on a tile.
        for (var i = 0; i < 48; i++)
        {
            var corner = new Vec2(450 * Math.Cos(2 * Math.PI * i / 48), 450 * Math.Sin(2 * Math.PI * i / 48));
            Assert.Contains(tiles, t => corner.X >= t.Low.X - Reading_mm && corner.X <= t.High.X + Reading_mm && corner.Y >= t.Low.Y - Reading_mm && corner.Y <= t.High.Y + Reading_mm);
        }
    }

    [Theory]
    [InlineData("templates-a4.pdf")]
    [InlineData("templates-letter.pdf")]
    public void No_text_overlaps_another_or_leaves_the_page(string file)
    {
        var kit = SampleKits.Frusta(title: new string('W', 200));
        Kit[] kits = [kit with { Measures = [.. Enumerable.Range(0, 9).Select(i => kit.Measures[0] with { Name = $"measure {i} of a long name that goes on and on over the whole width of any page there is", IsOuter = i % 2 == 0, AsCast_mm = 3 + (20 * i) })] }, Large(450), SampleKits.Bracket()];
        Assert.All(kits, k => Assert.All(Pages(k, file), p => Assert.Empty(p.Clashes())));
    }

    [Fact]
    public void Fonts_are_in_the_file_and_runs_give_the_same_bytes()
    {
        var kit = SampleKits.Bracket();
        byte[] Once() => KitFiles.Render(kit).Single(f => f.Name == "templates-a4.pdf").Content;
        var bytes = Once();
        Assert.Equal(bytes, Once());
        Assert.Contains("/FontFile2", System.Text.Encoding.Latin1.GetString(bytes), StringComparison.Ordinal);
    }

    private static (int Row, int Column, Vec2[] Crosses, Vec2 Low, Vec2 High) Tile(PdfPage page)
    {
        var words = page.Texts.Single(t => t.Text.StartsWith("cope at the joint: row", StringComparison.Ordinal)).Text.Split(' ');
        var outline = page.Paths.Single(p => p.Points.Length >= 48);
        var middle = new Vec2((outline.Points.Max(p => p[0]) + outline.Points.Min(p => p[0])) / 2, (outline.Points.Max(p => p[1]) + outline.Points.Min(p => p[1])) / 2);
        Assert.Equal(900, outline.Width, 0.02);
        var crosses = page.Paths.Where(p => p.Height < 0.001 && Math.Abs(p.Width - 8) < 0.001).Select(p => new Vec2((p.Points[0][0] + p.Points[1][0]) / 2, p.Points[0][1]) - middle).ToArray();
        // The room between margins, head and foot.
        return (int.Parse(words[5], System.Globalization.CultureInfo.InvariantCulture), int.Parse(words[9], System.Globalization.CultureInfo.InvariantCulture), crosses,
            new Vec2(10, 22) - middle, new Vec2(page.Width - 10, page.Height - 28) - middle);
    }

    // The ticks of both edges of the rule, from above.
    private static double[][] Ticks(Kit kit)
    {
        var page = Pages(kit, "templates-a4.pdf").Single(p => p.Texts.Any(t => t.Text.StartsWith("contraction rule", StringComparison.Ordinal)));
        var rule = page.Paths.Single(p => Math.Abs(p.Width - 34) < Reading_mm && p.Height > 200);
        var (left, right) = (rule.Points.Min(p => p[0]), rule.Points.Max(p => p[0]));
        return [.. new[] { left, right }.Select(edge => page.Paths.Where(p => p.Points.Length == 2 && p.Height < 0.001 && p.Width < 8 && p.Points.Any(q => Math.Abs(q[0] - edge) < 0.001)).Select(p => p.Points[0][1]).Order().ToArray())];
    }

    /// <summary>Frusta of a large radius.</summary>
    internal static Kit Large(double radius)
    {
        var kit = SampleKits.Frusta();
        var scale = radius / 40;
        var ring = kit.Plan.CopeOutline.Transformed(scale, 0, default);
        return kit with
        {
            Bodies = [.. kit.Bodies.Select(b => b with { InMould = b.InMould.Mapped(v => scale * v), AsPrinted = b.AsPrinted.Mapped(v => scale * v) })],
            Plan = new(ring, ring, [], []),
            PartBox_mm = new(scale * kit.PartBox_mm.Low, scale * kit.PartBox_mm.High),
            Parting = kit.Parting with { PatternHeight_mm = scale * kit.Parting.PatternHeight_mm },
        };
    }

    private static PdfPage[] Pages(Kit kit, string file) => PageReader.Pdf(KitFiles.Render(kit).Single(f => f.Name == file).Content);
}
