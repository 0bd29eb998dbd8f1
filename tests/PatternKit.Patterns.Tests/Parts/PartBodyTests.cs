using PatternKit.Exchange;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Parts;

/// <summary>Volumes by arithmetic of blocks and regular polygons.</summary>
public class PartBodyTests
{
    [Fact]
    public void Every_kind_of_cut_is_taken_from_the_finished_part()
    {
        var part = PartBody.From(Of(
            Block(0, 0, 100, 60, 0, 12),
            Block(10, 10, 20, 20, 0, 12, CutKind.Drawn),
            Block(30, 10, 40, 20, 0, 12, CutKind.Machined),
            Block(-1, 40, 101, 45, 4, 8, CutKind.Cored)));
        Assert.Equal((100 * 60 * 12) - (2 * 1200) - (100 * 5 * 4), part.Volume_mm3, 1e-6);
        Assert.Equal(100, part.Box.Size.X, 1e-6);
        Assert.Equal(12, part.Box.High.Z, 1e-6);
        Assert.Empty(part.Findings);
    }

    [Fact]
    public void A_circle_is_flattened_with_its_corners_on_the_arc_and_chords_within_the_tolerance()
    {
        var part = PartBody.From(Of(Round(0, 0, 40, 0, 1)), 0.01);
        Assert.Equal(PolygonArea(40), part.Volume_mm3, 1e-3);
        Assert.InRange(part.Volume_mm3, (Math.PI * 20 * 20) - (2 * Math.PI * 20 * 0.01), Math.PI * 20 * 20);
        Assert.All(part.Map.Cells[0].Region.Rings()[0], p => Assert.Equal(20, p.Length, 1e-5));
    }

    [Fact]
    public void A_later_feature_is_not_cut_by_an_earlier_cut() =>
        Assert.Equal((1000 * 5) - (100 * 5) + (16 * 5), PartBody.From(Of(
            Block(0, 0, 50, 20, 0, 5), Block(10, 5, 20, 15, 0, 5, CutKind.Drawn), Block(13, 8, 17, 12, 0, 5))).Volume_mm3, 1e-6);

    [Fact]
    public void A_drawn_cut_that_opens_to_neither_side_is_an_error_with_its_place()
    {
        var e = Assert.Throws<InputException>(() => PartBody.From(Of(
            Block(0, 0, 100, 60, 0, 12), Block(10, 10, 20, 20, 4, 8, CutKind.Drawn, "pocket"))));
        Assert.StartsWith("job.toml, line 7: pocket: a drawn cut must open", e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(4, 12)]
    [InlineData(0, 8)]
    [InlineData(-3, 20)]
    [InlineData(6, 14)]
    public void A_drawn_cut_that_reaches_top_or_bottom_is_taken(double low, double high) =>
        Assert.NotNull(PartBody.From(Of(Block(0, 0, 100, 60, 0, 12), Block(10, 10, 20, 20, low, high, CutKind.Drawn))));

    [Fact]
    public void A_blind_cored_or_machined_cut_inside_is_no_error()
    {
        foreach (var kind in (CutKind[])[CutKind.Cored, CutKind.Machined])
            Assert.Equal((6000 * 12) - 400, PartBody.From(Of(Block(0, 0, 100, 60, 0, 12), Block(10, 10, 20, 20, 4, 8, kind))).Volume_mm3, 1e-6);
    }

    [Theory]
    [InlineData(200, 0, 12)]
    [InlineData(10, 12, 20)]
    public void A_cut_off_the_metal_is_a_note(double x, double low, double high)
    {
        var finding = Assert.Single(PartBody.From(Of(
            Block(0, 0, 100, 60, 0, 12), Block(x, 10, x + 10, 20, low, high, CutKind.Drawn, "slot"))).Findings);
        Assert.Equal(("no-effect", Severity.Note), (finding.Code, finding.Severity));
        Assert.Contains("slot (job.toml, line 7)", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_before_the_metal_it_should_cut_is_a_note() =>
        Assert.Equal("no-effect", Assert.Single(PartBody.From(Of(
            Block(10, 10, 20, 20, 0, 12, CutKind.Drawn), Block(0, 0, 100, 60, 0, 12))).Findings).Code);

    [Fact]
    public void Metal_that_hangs_together_nowhere_is_a_note()
    {
        var finding = Assert.Single(PartBody.From(Of(Block(0, 0, 100, 60, 0, 12), Block(200, 0, 210, 10, 0, 12))).Findings);
        Assert.Equal("separate-pieces", finding.Code);
        Assert.Equal(1200, finding.Value!.Value, 1e-6);
    }

    [Fact]
    public void A_job_without_metal_or_without_height_is_refused()
    {
        Assert.Throws<InputException>(() => PartBody.From(Of()));
        Assert.Throws<InputException>(() => PartBody.From(Of(Block(0, 0, 1, 1, 0, 1, CutKind.Drawn))));
        Assert.Throws<InputException>(() => PartBody.From(Of(Block(0, 0, 10, 10, 0, 10), Block(-1, -1, 11, 11, -1, 11, CutKind.Drawn))));
        Assert.Throws<InputException>(() => PartBody.From(Of(Block(0, 0, 10, 10, 5, 5))));
        Assert.Throws<InputException>(() => PartBody.From(Of(Block(0, 0, 1e7, 10, 0, 5))));
    }

    [Fact]
    public void An_outline_that_crosses_itself_is_refused()
    {
        var bow = Block(0, 0, 1, 1, 0, 5) with { Loops = [PlanPath.Polygon(new(0, 0), new(10, 10), new(10, 0), new(0, 10))] };
        Assert.Contains("crosses", Assert.Throws<InputException>(() => PartBody.From(Of(bow))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Coordinates_are_exact_in_single_precision()
    {
        var part = PartBody.From(Of(Round(33.3, 17.7, 24, 0, 12.7), Block(0.1, 0.2, 90.3, 60.7, 0, 3.3)));
        Assert.All(part.Map.Cells.SelectMany(c => c.Region.Geometry.Coordinates), p => Assert.Equal((p.X, p.Y), ((float)p.X, (float)p.Y)));
        Assert.All(part.Map.Cells.SelectMany(c => c.Solid), s => Assert.Equal((s.Low.AtOrigin, s.High.AtOrigin), ((float)s.Low.AtOrigin, (float)s.High.AtOrigin)));
    }
}
