using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Valid;
using PatternKit.Exchange.Lettering;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Tests.Lettering;

/// <summary>
/// Figures of the typeface (grid 2816 units an em; cap height 2048 by the OS/2 table; widths of hmtx, boxes of glyf),
/// read from the font files with a few lines of a script of their own.
/// </summary>
public class LetterOutlinesTests
{
    private const double Cap = 2048;

    // Half a step of 1/64 at 64 units an em, in parts of the cap height.
    private const double Grid = 2816.0 / 8192 / Cap * 1.0001;

    [Theory]
    [InlineData("O", 1, 1)]
    [InlineData("B", 1, 2)]
    [InlineData("8", 1, 2)]
    [InlineData("A", 1, 1)]
    [InlineData("H", 1, 0)]
    [InlineData("i", 2, 0)]
    [InlineData("é", 2, 1)]
    [InlineData("%", 3, 2)]
    [InlineData("Ø", 1, 2)] // the stroke parts the counter
    [InlineData("Ж", 1, 0)]
    [InlineData("PUMP No 2", 7, 3)]
    public void Letters_have_as_many_pieces_and_holes_as_they_should(string text, int pieces, int holes)
    {
        foreach (var weight in Enum.GetValues<LetterWeight>())
        {
            var line = LetterOutlines.Of(text, 10, 0.01, weight);
            Assert.Empty(line.Missing);
            var polygons = Polygons(line.Region);
            Assert.Equal(pieces, polygons.Count);
            Assert.Equal(holes, polygons.Sum(p => p.NumInteriorRings));
            Assert.True(new IsValidOp(line.Region.Geometry).IsValid);
        }
    }

    [Theory]
    [InlineData(3)]
    [InlineData(8)]
    [InlineData(40)]
    public void The_capital_H_is_as_high_as_asked(double height)
    {
        var (low, high) = Box(LetterOutlines.Of("H", height, 0.01).Region);
        Assert.Equal(0, low.Y, height * Grid);
        Assert.Equal(height, high.Y, height * Grid);
    }

    [Theory]
    [InlineData(LetterWeight.Regular, "H", 2084)]
    [InlineData(LetterWeight.Regular, "é", 1640)]
    [InlineData(LetterWeight.SemiBold, "H", 2095)]
    [InlineData(LetterWeight.SemiBold, "PUMP No 2", 1812 + 2066 + 2552 + 1812 + 699 + 2086 + 1712 + 699 + 1750)]
    public void The_advance_is_the_sum_of_the_widths_in_the_scale_of_the_cap_height(LetterWeight weight, string text, int units)
    {
        // The font engine holds the scale in 16.16 fixed point: 2 in a million at 64 units an em.
        Assert.Equal(1, LetterOutlines.Of(text, 8, 0.01, weight).Advance_mm / (units * 8 / Cap), 2e-6);
        Assert.Equal(1, LetterOutlines.Of(text, 24, 0.01, weight).Advance_mm / (units * 24 / Cap), 2e-6);
    }

    [Theory]
    [InlineData(LetterWeight.Regular, "O", 168, -28, 1976, 2076)]
    [InlineData(LetterWeight.Regular, "&", 144, -28, 1756, 2068)]
    [InlineData(LetterWeight.SemiBold, "Ж", 79, 0, 2849, 2048)]
    [InlineData(LetterWeight.SemiBold, "é", 120, -30, 1549, 2195)]
    public void Outlines_fill_the_box_that_the_typeface_states(LetterWeight weight, string text, int left, int bottom, int right, int top)
    {
        var (low, high) = Box(LetterOutlines.Of(text, Cap, 0.01, weight).Region);
        // TrueType has points at extremes, so chords lose nothing there.
        Assert.Equal(left, low.X, Cap * Grid);
        Assert.Equal(bottom, low.Y, Cap * Grid);
        Assert.Equal(right, high.X, Cap * Grid);
        Assert.Equal(top, high.Y, Cap * Grid);
    }

    [Fact]
    public void Letters_stand_one_after_the_other_at_their_advance_and_spacing()
    {
        var (one, pair) = (LetterOutlines.Of("I", 10, 0.01), LetterOutlines.Of("II", 10, 0.01, spacing_mm: 1.5));
        Assert.Equal((2 * one.Advance_mm) + 1.5, pair.Advance_mm, 9);
        var (low, high) = Box(pair.Region);
        var (low1, high1) = Box(one.Region);
        Assert.Equal(low1.X, low.X, 9);
        Assert.Equal(high1.X + one.Advance_mm + 1.5, high.X, 9);
    }

    [Fact]
    public void A_finer_tolerance_brings_the_area_to_its_limit_from_within_the_tolerance_times_the_outline()
    {
        var fine = LetterOutlines.Of("O", 10, 1e-5).Region;
        foreach (var tolerance in (double[])[0.1, 0.01, 0.001])
        {
            var coarse = LetterOutlines.Of("O", 10, tolerance).Region;
            Assert.True(Math.Abs(coarse.Area - fine.Area) <= tolerance * fine.Geometry.Length);
            Assert.All(fine.Rings().SelectMany(r => r), p =>
                Assert.True(coarse.Geometry.Boundary.Distance(new Point(p.X, p.Y)) <= tolerance + 1e-9));
        }
    }

    [Fact]
    public void Characters_that_the_typeface_lacks_are_named_and_take_no_room()
    {
        var line = LetterOutlines.Of("A漢B字漢", 10, 0.01);
        Assert.Equal(["漢 (U+6F22)", "字 (U+5B57)"], line.Missing);
        var without = LetterOutlines.Of("AB", 10, 0.01);
        Assert.Equal(without.Advance_mm, line.Advance_mm, 12);
        Assert.Equal(without.Region.Area, line.Region.Area, 12);
    }

    [Theory]
    [InlineData("a\nb", "U+000A")]
    [InlineData("a\tb", "U+0009")]
    [InlineData("e\u0301", "U+0301")]
    [InlineData("a\u200bb", "U+200B")]
    public void Line_ends_loose_accents_and_controls_are_named(string text, string missing) =>
        Assert.Equal([missing], LetterOutlines.Of(text, 10, 0.01).Missing);

    [Fact]
    public void Half_a_surrogate_pair_is_named() =>
        Assert.Equal(["U+FFFD"], LetterOutlines.Of("a\ud800b", 10, 0.01).Missing);

    [Fact]
    public void Nothing_and_blanks_have_no_outline()
    {
        Assert.True(LetterOutlines.Of("", 10, 0.01).Region.IsEmpty);
        var blank = LetterOutlines.Of(" ", 10, 0.01);
        Assert.True(blank.Region.IsEmpty && blank.Missing.IsEmpty && blank.Advance_mm > 0);
    }

    [Fact]
    public void The_same_text_gives_the_same_points()
    {
        var (a, b) = (LetterOutlines.Of("Größe Ω & 8", 7, 0.01), LetterOutlines.Of("Größe Ω & 8", 7, 0.01));
        Assert.Equal(a.Region.Rings().SelectMany(r => r), b.Region.Rings().SelectMany(r => r));
    }

    [Theory]
    [InlineData(0, 0.01, 0)]
    [InlineData(double.NaN, 0.01, 0)]
    [InlineData(10, 0, 0)]
    [InlineData(10, 0.01, double.PositiveInfinity)]
    public void Sizes_that_cannot_be_are_a_misuse(double height, double tolerance, double spacing) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => LetterOutlines.Of("A", height, tolerance, spacing_mm: spacing));

    [Fact]
    public void Every_letter_of_the_common_alphabets_is_there_and_valid()
    {
        const string Alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,:;-+/()&%°×ø#\"'ÄÖÜäöüßÅåÆæÇçÑñŁłŽž"
            + "ΑΒΓΔΕΖΗΘαβγδεζηθАБВГДЕЖЗабвгдежз";
        foreach (var weight in Enum.GetValues<LetterWeight>())
        {
            var line = LetterOutlines.Of(Alphabet, 8, 0.02, weight);
            Assert.Empty(line.Missing);
            Assert.True(new IsValidOp(line.Region.Geometry).IsValid);
        }
    }

    [Fact]
    public void The_licence_travels_with_the_typeface()
    {
        var license = LetterFont.License();
        Assert.StartsWith("Copyright 2020 The Inter Project Authors", license);
        Assert.Contains("SIL OPEN FONT LICENSE", license);
    }

    private static List<Polygon> Polygons(PlanRegion region) =>
        [.. Enumerable.Range(0, region.Geometry.NumGeometries).Select(i => (Polygon)region.Geometry.GetGeometryN(i))];

    private static (Vec2 Low, Vec2 High) Box(PlanRegion region)
    {
        var box = region.Geometry.EnvelopeInternal;
        return (new(box.MinX, box.MinY), new(box.MaxX, box.MaxY));
    }
}
