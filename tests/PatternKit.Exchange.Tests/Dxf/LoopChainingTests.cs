using System.Collections.Immutable;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Expected loops, areas and places by hand.</summary>
public sealed class LoopChainingTests
{
    private static DxfCurve Line(double x0, double y0, double x1, double y1, int line = 1) =>
        new("BASE", new PlanPath([new(new(x0, y0)), new(new(x1, y1))], false), line);

    private static DxfCurve Arc(double x0, double y0, double bulge, double x1, double y1, int line = 1) =>
        new("BASE", new PlanPath([new(new(x0, y0), bulge), new(new(x1, y1))], false), line);

    private static DxfCurve Closed(int line, params Vec2[] points) => new("BASE", PlanPath.Polygon(points), line);

    private static DxfCurve[] Square(double gap = 0) =>
        [Line(0, 0, 10, 0, 10), Line(10, 10, 10, 0, 20), Line(10, 10, 0, 10, 30), Line(0, gap, 0, 10, 40)];

    private static ReadResult<ImmutableArray<PlanPath>> Chain(double gap, params DxfCurve[] curves) => LoopChaining.Chain(curves, gap, "bracket.dxf");

    private static double Area(PlanPath loop) => Math.Abs(loop.SignedArea());

    [Fact]
    public void Lines_drawn_in_any_direction_make_one_loop_without_a_note()
    {
        var result = Chain(0, Square());
        var loop = Assert.Single(result.Value);
        Assert.Equal(4, loop.Vertices.Length);
        Assert.Equal(100, Area(loop), 1e-12);
        Assert.Empty(result.Notes);
    }

    [Fact]
    public void Lines_and_arcs_make_a_slot_with_true_arcs_whichever_way_they_are_walked()
    {
        var result = Chain(0, Line(0, 0, 20, 0), Arc(20, 0, 1, 20, 10), Line(0, 10, 20, 10), Arc(0, 0, -1, 0, 10));
        Assert.Equal(200 + (Math.PI * 25), Area(Assert.Single(result.Value)), 1e-9);
    }

    [Fact]
    public void Two_arcs_can_make_a_circle() =>
        Assert.Equal(Math.PI * 25, Area(Assert.Single(Chain(0, Arc(5, 0, 1, -5, 0), Arc(5, 0, -1, -5, 0)).Value)), 1e-9);

    [Fact]
    public void An_arc_of_nearly_a_full_turn_and_a_short_line_make_a_loop()
    {
        var bulge = Math.Tan(355.0 / 4 * Math.PI / 180);
        var end = new Vec2(50 * Math.Cos(355 * Math.PI / 180), 50 * Math.Sin(355 * Math.PI / 180));
        var loop = Assert.Single(Chain(0, Arc(50, 0, bulge, end.X, end.Y), Line(end.X, end.Y, 50, 0)).Value);
        // Circle less the cap of 5 degrees: r^2 (a - sin a) / 2.
        var a = 5 * Math.PI / 180;
        Assert.Equal((Math.PI * 2500) - (2500 * (a - Math.Sin(a)) / 2), Area(loop), 1e-6);
    }

    [Fact]
    public void A_gap_within_the_tolerance_is_closed_with_its_size_and_lines_told()
    {
        var result = Chain(0.05, Square(gap: 0.03));
        Assert.Equal(4, Assert.Single(result.Value).Vertices.Length);
        Assert.Contains(result.Value[0].Vertices, v => Vec2.Distance(v.Point, new(0, 0.015)) < 1e-12);
        var note = Assert.Single(result.Notes);
        Assert.Equal("A gap of 0.03 at (0, 0.015) between line 10 and line 40 (layer BASE) is closed.", note.Text);
        Assert.Equal(10, note.Line);
    }

    [Fact]
    public void A_gap_beyond_the_tolerance_is_refused_with_both_ends_named()
    {
        var refused = Assert.Throws<InputException>(() => Chain(0.02, Square(gap: 0.03)));
        Assert.Contains("(0, 0)", refused.Message, StringComparison.Ordinal);
        Assert.Contains("(0, 0.03)", refused.Message, StringComparison.Ordinal);
        Assert.Contains("layer BASE", refused.Message, StringComparison.Ordinal);
        Assert.Contains("line 10", refused.Message, StringComparison.Ordinal);
        Assert.Contains("line 40", refused.Message, StringComparison.Ordinal);
        Assert.Contains("0.03 away", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Gaps_of_rounding_are_told_together()
    {
        var result = Chain(0.01, [.. Square(gap: 4e-7)]);
        Assert.Equal("1 gaps of rounding, the largest 4E-07, are closed.", Assert.Single(result.Notes).Text);
    }

    [Fact]
    public void A_gap_is_closed_with_the_nearest_end_first()
    {
        // Two squares side by side, both open at the same place: 0.01 within each, 0.02 across.
        var left = new[] { Line(0, 0, 10, 0), Line(10, 0.01, 10, 10), Line(10, 10, 0, 10), Line(0, 10, 0, 0) };
        var right = new[] { Line(10.02, 0, 20, 0), Line(20, 0, 20, 10), Line(20, 10, 10.02, 10), Line(10.02, 10, 10.02, 0.01) };
        Assert.Equal(2, Chain(0.05, [.. left, .. right]).Value.Length);
    }

    [Fact]
    public void A_short_edge_shorter_than_the_gap_tolerance_stays()
    {
        var loop = Assert.Single(Chain(0.5, Line(0, 0, 10, 0), Line(10, 0, 10.2, 0.2), Line(10.2, 0.2, 10.2, 10), Line(10.2, 10, 0, 10), Line(0, 10, 0, 0)).Value);
        Assert.Equal(5, loop.Vertices.Length);
    }

    [Fact]
    public void Doubles_and_pieces_of_length_zero_are_dropped_aloud()
    {
        var result = Chain(0, [.. Square(), Line(10, 0, 0, 0, 50), Line(10, 10, 10, 10, 60)]);
        Assert.Equal(100, Area(Assert.Single(result.Value)), 1e-12);
        Assert.Contains(result.Notes, n => n.Line == 50 && n.Text.Contains("drawn twice (line 10)", StringComparison.Ordinal));
        Assert.Contains(result.Notes, n => n.Line == 60 && n.Text.Contains("length zero", StringComparison.Ordinal));
    }

    [Fact]
    public void An_overlap_is_dropped_aloud()
    {
        var result = Chain(0, Line(0, 0, 7, 0, 10), Line(3, 0, 10, 0, 11), Line(10, 0, 10, 10), Line(10, 10, 0, 10), Line(0, 10, 0, 0));
        Assert.Equal(100, Area(Assert.Single(result.Value)), 1e-12);
        Assert.Contains(result.Notes, n => n.Text.Contains("partly", StringComparison.Ordinal));
    }

    [Fact]
    public void A_short_line_on_a_long_one_is_dropped_aloud()
    {
        var result = Chain(0, [.. Square(), Line(3, 0, 5, 0, 50)]);
        Assert.Equal(100, Area(Assert.Single(result.Value)), 1e-12);
        Assert.Contains(result.Notes, n => n.Text.Contains("partly", StringComparison.Ordinal));
    }

    [Fact]
    public void Arcs_that_overlap_make_one_circle()
    {
        static DxfCurve Of(double from, double to)
        {
            double a = from * Math.PI / 180, b = to * Math.PI / 180;
            return Arc(30 * Math.Cos(a), 30 * Math.Sin(a), Math.Tan((b - a) / 4), 30 * Math.Cos(b), 30 * Math.Sin(b));
        }

        var result = Chain(0, Of(0, 200), Of(180, 370), Of(370, 380));
        Assert.Equal(Math.PI * 900, Area(Assert.Single(result.Value)), 1e-6);
        Assert.NotEmpty(result.Notes);
    }

    [Fact]
    public void A_line_drawn_over_a_closed_curve_is_dropped_aloud()
    {
        var result = Chain(0, Closed(1, new(0, 0), new(10, 0), new(10, 10), new(0, 10)), Line(2, 0, 8, 0, 9));
        Assert.Single(result.Value);
        Assert.Contains(result.Notes, n => n.Line == 9 && n.Text.Contains("drawn over", StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_loop_drawn_by_other_means_is_dropped_aloud()
    {
        var circle = PlanPath.Circle(new(0, 0), 10);
        var turned = circle.Transformed(1, 0.3, default).Reversed();
        var result = Chain(0, new DxfCurve("BASE", circle, 5), new DxfCurve("BASE", turned, 6), Closed(7, new(20, 0), new(30, 0), new(30, 10), new(20, 10)),
            Line(20, 0, 30, 0, 8), Line(30, 0, 30, 10, 8), Line(30, 10, 20, 10, 8), Line(20, 10, 20, 0, 8));
        Assert.Equal(2, result.Value.Length);
        Assert.Equal([6, 8], result.Notes.Where(n => n.Text.Contains("drawn twice", StringComparison.Ordinal)).Select(n => n.Line));
    }

    [Fact]
    public void At_a_junction_loops_touch_and_do_not_cross()
    {
        // Two triangles that share the corner (10, 10).
        var result = Chain(0, Line(0, 0, 10, 10), Line(10, 10, 20, 20), Line(20, 20, 20, 10), Line(20, 10, 10, 10), Line(10, 10, 0, 10), Line(0, 10, 0, 0));
        Assert.Equal(100, result.Value.Sum(Area), 1e-9);
        Assert.Empty(LoopCheck.Faults(result.Value, 0.01).Where(f => f.Loop != f.Other));
        Assert.Contains(result.Notes, n => n.Text.Contains("4 curves meet at (10, 10)", StringComparison.Ordinal));
    }

    [Fact]
    public void A_line_across_an_outline_is_refused_by_its_place()
    {
        var refused = Assert.Throws<InputException>(() => Chain(0, Line(0, 0, 5, 0), Line(5, 0, 10, 0), Line(10, 0, 10, 10), Line(10, 10, 5, 10), Line(5, 10, 0, 10), Line(0, 10, 0, 0), Line(5, 0, 5, 10, 77)));
        Assert.Contains("line 77", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Closed_curves_are_tidied_aloud()
    {
        var result = Chain(0, Closed(3, new(0, 0), new(10, 0), new(10, 0), new(10, 10), new(0, 0)), Closed(4, new(5, 5), new(6, 6)));
        Assert.Equal(3, Assert.Single(result.Value).Vertices.Length);
        Assert.Contains(result.Notes, n => n.Line == 3 && n.Text.StartsWith("2 pieces of length zero", StringComparison.Ordinal));
        Assert.Contains(result.Notes, n => n.Line == 4 && n.Text.Contains("encloses nothing", StringComparison.Ordinal));
    }

    [Fact]
    public void No_curves_make_no_loops() => Assert.Empty(Chain(0.01).Value);

    [Fact]
    public void Far_from_the_origin_ends_still_meet()
    {
        const double far = 5e6;
        Assert.Single(Chain(0, Line(far, far, far + 0.1, far), Line(far + 0.1, far, far, far + 0.1), Line(far, far + 0.1, far, far)).Value);
    }
}
