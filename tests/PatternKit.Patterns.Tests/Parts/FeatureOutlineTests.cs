using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Tests.Casting;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Parts;

/// <summary>Outlines whose walls lie on one circle, and outlines moved: areas by closed form.</summary>
public class FeatureOutlineTests
{
    /// <summary>The arm of a lever: two arcs about the eyes and their outer tangents, coordinates rounded as files have them.</summary>
    private static readonly Feature Arm = Block(0, 0, 1, 1, -6, 6, name: "arm") with
    {
        Loops =
        [
            new([new(new(110.5, -10.98863), 0.955533), new(new(110.5, 10.98863)), new(new(0.727273, 15.983463), 1.046536), new(new(0.727273, -15.983463))], true),
        ],
    };

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0, 0.2)]
    [InlineData(2, 0)]
    [InlineData(2, 0.3)]
    public void Eyes_on_the_arcs_of_an_arm_leave_no_slivers(double stock_mm, double rapping_mm)
    {
        var casting = CastingBodyTests.Cast(
            CastingBodyTests.With(0.013, new(Sides_mm: stock_mm), rapping_mm),
            Arm, Round(0, 0, 32, -14, 9), Round(110, 0, 22, -10, 10), Round(0, 0, 14, -14, 9, CutKind.Drawn));
        Assert.Equal(4, casting.Map.Cells.Length);
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(2)]
    [InlineData(-0.2)]
    [InlineData(-2)]
    public void A_convex_outline_of_arcs_grows_by_Steiners_formula(double grow_mm)
    {
        // Area + perimeter × d + π d², exact for a smooth convex outline (Steiner 1840), inwards too while arcs last.
        var arm = Arm.Loops[0];
        var perimeter = Enumerable.Range(0, arm.SegmentCount).Sum(i => arm.Segment(i).Length);
        var moved = PathOffset.Of(arm, grow_mm, 1.75)!;
        Assert.Equal(arm.SignedArea() + (perimeter * grow_mm) + (Math.PI * grow_mm * grow_mm), moved.SignedArea(), 2e-3);
        Assert.Equal(4, moved.SegmentCount);
    }

    [Fact]
    public void A_rectangle_with_a_round_notch_moves_to_where_its_sides_meet()
    {
        // Half a disc of radius 5 taken out of the upper side.
        var path = new PlanPath([new(new(0, 0)), new(new(40, 0)), new(new(40, 20)), new(new(25, 20), -1), new(new(15, 20)), new(new(0, 20))], true);
        var moved = PathOffset.Of(path, 1, 1.75)!;
        Assert.Equal(new Vec2(20 + Math.Sqrt(15), 21), moved.Vertices[3].Point);
        // 42 x 22 less the segment of radius 4 below its chord, 1 mm above the centre.
        var segment = (16 * (Math.PI - Math.Acos(0.25))) + (1 * Math.Sqrt(15));
        Assert.Equal((42 * 22) - segment, moved.SignedArea(), 1e-9);
    }

    [Theory]
    [InlineData(-3)]
    [InlineData(4.9)]
    public void A_move_that_would_swallow_a_side_is_left_to_the_polygons(double grow_mm)
    {
        // A slot 5 wide and 9 deep in a plate: it closes at 2.5 outward; its web of 3 between slot and edge goes at 1.5 inward.
        var path = PlanPath.Polygon(new(0, 0), new(40, 0), new(40, 20), new(8, 20), new(8, 11), new(3, 11), new(3, 20), new(0, 20));
        Assert.Null(PathOffset.Of(path, grow_mm, 1.75));
    }

    [Fact]
    public void Arcs_of_one_circle_have_the_same_corners_wherever_they_end() =>
        Gen.Select(Gen.Double[0.5, 80], Gen.Double[-3, 3], Gen.Double[0.2, 6]).Sample(
            (radius, start, sweep) =>
            {
                Vec2 On(double a) => new(3 + (radius * Math.Cos(a)), -2 + (radius * Math.Sin(a)));
                var arc = new PlanPath([new(On(start), Math.Tan(sweep / 4)), new(On(start + sweep))], true);
                var circle = PlanPath.Circle(new(3, -2), 2 * radius);
                var stations = new ArcStations([arc, circle], 0.01);
                var corners = stations.Flatten(circle).Vertices.Select(v => v.Point).ToList();
                var part = stations.Flatten(arc).Vertices.Select(v => v.Point).ToList();
                var from = corners.IndexOf(part[0]);
                Assert.True(from >= 0);
                for (var i = 0; i < part.Count; i++) Assert.Equal(corners[(from + i) % corners.Count], part[i]);
                // On the circle, and no chord farther in than the tolerance.
                for (var i = 0; i < corners.Count; i++)
                {
                    Assert.Equal(radius, (corners[i] - new Vec2(3, -2)).Length, 1e-4);
                    var middle = 0.5 * (corners[i] + corners[(i + 1) % corners.Count]);
                    Assert.True(radius - (middle - new Vec2(3, -2)).Length <= Math.Max(0.01 + 1e-6, 0.08 * radius));
                }
            },
            iter: 500);
}
