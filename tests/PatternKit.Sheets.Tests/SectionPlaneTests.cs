using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;

namespace PatternKit.Sheets.Tests;

/// <summary>Where the pattern is cut and its axes are drawn. The pattern is the bracket of the samples, 120 × 60 mm, so that its middle is y 30.</summary>
public sealed class SectionPlaneTests
{
    private static readonly Feature Base = new("base", null, [PlanPath.Polygon(new(0, 0), new(120, 0), new(120, 60), new(0, 60))], 0, 12, CutKind.None, "");
    private static readonly Feature Boss = new("boss", null, [PlanPath.Circle(new(85, 40), 20)], 0, 30, CutKind.None, "");
    private static readonly Feature Small = new("small hole", null, [PlanPath.Circle(new(20, 10), 6)], 0, 12, CutKind.Drawn, "");
    private static readonly Feature Large = new("bore", null, [PlanPath.Circle(new(60, 44), 14)], 0, 12, CutKind.Drawn, "");
    private static readonly Feature Drilled = new("bolt hole", null, [PlanPath.Circle(new(60, 5), 40)], 0, 12, CutKind.Machined, "");
    private static readonly Feature Pulley = new("pulley", null, [PlanPath.Polygon(new(-5, 0), new(5, 0), new(5, 20), new(-5, 20))], 0, 0, CutKind.None, "", new(TurnedAxis.Y, new(33, 30, 0)));

    [Fact]
    public void Without_features_it_goes_through_the_middle_along_the_longer_side()
    {
        var plane = SectionPlane.Of(Of());
        Assert.True(plane.AlongX);
        Assert.Equal((plane.Box.Low.Y + plane.Box.High.Y) / 2, plane.At_mm, 1e-9);
    }

    [Fact]
    public void It_goes_through_the_largest_bore_and_not_through_what_is_drilled_later()
    {
        var plane = SectionPlane.Of(Of(Base, Boss, Small, Large, Drilled));
        Assert.Equal((true, "the axis of “bore”"), (plane.AlongX, plane.Through));
        Assert.Equal(44, plane.At_mm, 0.01);
    }

    [Fact]
    public void Without_a_bore_it_follows_the_axis_of_the_largest_turned_body()
    {
        var plane = SectionPlane.Of(Of(Base, Boss, Pulley));
        Assert.Equal((false, 33, "the axis of “pulley”"), (plane.AlongX, plane.At_mm, plane.Through));
        Assert.Equal(new Vec2(-1, 0), plane.Sight);
    }

    [Fact]
    public void Else_it_goes_through_what_stands_farthest_from_the_joint()
    {
        var plane = SectionPlane.Of(Of(Base, Boss));
        Assert.Equal("the middle of “boss”", plane.Through);
        Assert.Equal(40, plane.At_mm, 0.01);
    }

    [Fact]
    public void What_lies_beyond_the_pattern_is_not_cut() =>
        Assert.Equal("the middle of the pattern", SectionPlane.Of(Of(Large with { Loops = [PlanPath.Circle(new(60, 400), 14)] })).Through);

    // A profile of 40 mm turned about y at x 33, and two round outlines about one upright axis.
    [Fact]
    public void What_is_round_has_its_axis_once()
    {
        var lines = CentreLine.Of(Of(Base, Boss, Boss with { Name = "rim", Low_mm = -9, High_mm = 5 }, Drilled, Pulley));
        Assert.Equal(2, lines.Length);
        Assert.Equal((new Vec3(85, 40, -9), new Vec3(85, 40, 30)), (Rounded(lines[0].From), Rounded(lines[0].To)));
        Assert.Equal((new Vec3(33, 25, 0), new Vec3(33, 35, 0), 20), (Rounded(lines[1].From), Rounded(lines[1].To), Math.Round(lines[1].Radius_mm, 3)));
    }

    private static Vec3 Rounded(Vec3 p) => new(Math.Round(p.X, 2), Math.Round(p.Y, 2), Math.Round(p.Z, 2));

    private static Kit Of(params Feature[] features)
    {
        var kit = SampleKits.Bracket();
        return kit with { Scale = 1, Job = kit.Job with { Features = [.. features] } };
    }
}
