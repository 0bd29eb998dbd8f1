using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Tests.Dxf;

public sealed class LoopCheckTests
{
    private static PlanPath Square(double x, double y, double size) => PlanPath.Polygon(new(x, y), new(x + size, y), new(x + size, y + size), new(x, y + size));

    [Fact]
    public void Loops_apart_inside_one_another_or_touching_are_sound() =>
        Assert.Empty(LoopCheck.Faults([Square(0, 0, 10), PlanPath.Circle(new(5, 5), 4), Square(20, 0, 5), Square(10, 10, 3), Square(10, 0, 5)], 0.01));

    [Fact]
    public void A_figure_of_eight_is_found_with_its_crossing()
    {
        var fault = Assert.Single(LoopCheck.Faults([Square(50, 0, 1), PlanPath.Polygon(new(0, 0), new(10, 10), new(10, 0), new(0, 10))], 0.01));
        Assert.Equal((1, 1), (fault.Loop, fault.Other));
        Assert.Equal(5, fault.At.X, 1e-9);
        Assert.Equal(5, fault.At.Y, 1e-9);
    }

    [Fact]
    public void A_loop_that_crosses_itself_by_an_arc_is_found() =>
        Assert.Single(LoopCheck.Faults([new PlanPath([new(new(0, 0)), new(new(10, 0), -3), new(new(10, 2)), new(new(0, 2))], true)], 0.01));

    [Fact]
    public void A_loop_that_runs_back_on_itself_is_found() =>
        Assert.Single(LoopCheck.Faults([PlanPath.Polygon(new(0, 0), new(10, 0), new(5, 0))], 0.01));

    [Fact]
    public void Two_circles_that_cross_are_found_at_a_point_of_both()
    {
        var fault = Assert.Single(LoopCheck.Faults([PlanPath.Circle(new(0, 0), 10), PlanPath.Circle(new(6, 0), 10)], 0.0001));
        Assert.Equal((0, 1), (fault.Loop, fault.Other));
        // Radii 5, centres 6 apart: they meet at x = 3, y = 4 or -4.
        Assert.Equal(3, fault.At.X, 0.001);
        Assert.Equal(4, Math.Abs(fault.At.Y), 0.001);
    }

    // Two copies of one wide strip a few units apart, far out: an overlay in doubles finds crossings that it has not noded.
    [Fact]
    public void Loops_far_out_that_all_but_coincide_are_told_as_crossing()
    {
        PlanPath Strip(double shift, double turn) => PlanPath.Circle(default, 2e8).Transformed(1, turn, new(shift, shift / 3));
        Assert.NotEmpty(LoopCheck.Faults([Strip(0, 0), Strip(5, 0.3), Strip(11, 0.7)], 10));
    }

    [Fact]
    public void The_demand_names_the_file_and_the_place()
    {
        var refused = Assert.Throws<InputException>(() => LoopCheck.Demand([Square(0, 0, 10), Square(5, 5, 10)], 0.01, "bracket.dxf"));
        Assert.StartsWith("bracket.dxf: two outlines cross at (", refused.Message, StringComparison.Ordinal);
        LoopCheck.Demand([Square(0, 0, 10)], 0.01, "bracket.dxf");
    }

    [Fact]
    public void An_arc_that_is_as_good_as_straight_needs_few_points() =>
        Assert.InRange(new PlanPath([new(new(0, 0), 1e-10), new(new(1e5, 0))], false).Flatten(0.01).Count, 2, 3);

    [Fact]
    public void What_would_take_minutes_is_refused_at_once()
    {
        // A circle of 1e10 within 0.01 needs 2 pi / (2 sqrt(2 0.01 / 0.5e10)) = 1.6 million chords; circles of 100 need 222 each.
        Assert.Contains("300000 points", Assert.Throws<InputException>(() => LoopCheck.Demand([PlanPath.Circle(default, 1e10)], 0.01, "bracket.dxf")).Message, StringComparison.Ordinal);
        var rings = Enumerable.Range(0, 400).Select(i => PlanPath.Circle(default, 100 + i)).ToList();
        Assert.Contains("too many loops", LoopCheck.Excess(rings, 0.01), StringComparison.Ordinal);
        Assert.Null(LoopCheck.Excess([.. rings.Take(20)], 0.01));
    }
}
