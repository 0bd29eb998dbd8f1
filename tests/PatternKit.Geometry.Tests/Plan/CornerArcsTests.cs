using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Plan;

/// <summary>Fills of inside corners against closed forms: between two tangents and an arc lie r² (tan(τ/2) − τ/2), τ the angle by which the outline turns.</summary>
public class CornerArcsTests
{
    [Fact]
    public void A_corner_of_any_angle_is_filled_by_the_area_between_tangents_and_arc() =>
        Gen.Select(Gen.Double[0.9, 2.7], Gen.Double[0.5, 6], Gen.Double[0, 6.28], Gen.Double[-20, 20]).Sample((turn, radius, rotated, shift) =>
        {
            // Two arms from one corner; between them the outline turns inward.
            Vec2 Ray(double angle) => new(Math.Cos(angle + rotated), Math.Sin(angle + rotated));
            const double length = 60;
            var void_ = Math.PI - turn;
            var corner = new Vec2(shift, -shift);
            var region = PlanRegion.Polygon([corner, corner + (length * Ray(void_)), corner + (length * Ray((void_ + (2 * Math.PI)) / 2)) + (length * Ray(void_)), corner + (length * Ray((void_ + (2 * Math.PI)) / 2)) + (length * Ray(0)), corner + (length * Ray(0))]);
            var (filled, rounded) = CornerArcs.Of(region, [radius], 0.02, _ => false);
            if (radius * Math.Tan(turn / 2) > length / 2) return;
            Assert.Single(rounded);
            var expected = radius * radius * (Math.Tan(turn / 2) - (turn / 2));
            Assert.Equal(expected, filled.Area - region.Area, 0.003 * expected);
            Assert.True(filled.Covers(region.Offset(-1e-6, 1e-6)));
            // No chord is farther from the arc than asked, and it is tangent at both ends.
            var centre = corner + (radius / Math.Cos(turn / 2) * (Ray(0) + Ray(void_)).Normalized());
            var arc = filled.Rings().SelectMany(r => r).Where(v => Math.Abs(Vec2.Distance(v, centre) - radius) < 0.1).ToArray();
            Assert.True(arc.Length >= 3);
            Assert.All(arc, v => Assert.InRange(Vec2.Distance(v, centre), radius - 1e-9, radius + 0.02));
        }, iter: 60);

    [Fact]
    public void A_corner_between_a_straight_side_and_an_arc_is_filled_as_the_library_closes_it()
    {
        // A disc on a bar: the fill is what a closing by fine buffers adds (NetTopologySuite).
        var region = PlanRegion.Rectangle(new(-30, -5), new(30, 5)).Union(PlanRegion.EvenOdd([PlanPath.Circle(new(0, 0), 24)], 0.002));
        var (filled, rounded) = CornerArcs.Of(region, [3], 0.02, _ => false);
        Assert.Equal(4, rounded.Length);
        var closed = region.Offset(3, 1e-4).Offset(-3, 1e-4);
        Assert.Equal(closed.Area - region.Area, filled.Area - region.Area, 0.01 * (closed.Area - region.Area));
    }

    [Theory]
    [InlineData(8, 3)]
    [InlineData(5.2, 2.5)]
    [InlineData(3.2, 1.5)]
    public void A_narrow_groove_gets_the_largest_radius_that_fits(double width, double expected)
    {
        var region = PlanRegion.Rectangle(new(-20, -20), new(20, 0)).Difference(PlanRegion.Rectangle(new(-width / 2, -10), new(width / 2, 1)));
        var (_, rounded) = CornerArcs.Of(region, [3, 2.5, 2, 1.5, 1], 0.02, _ => false);
        Assert.Equal(2, rounded.Length);
        Assert.All(rounded, r => Assert.Equal(expected, r.Radius));
    }

    [Fact]
    public void A_disc_that_rests_on_both_flanks_of_a_vee_does_not_fill_its_flat_bottom()
    {
        PlanRegion Vee(double bottom) => PlanRegion.Polygon([new(-30, -30), new(30, -30), new(30, 0), new((bottom / 2) + 4, 0), new(bottom / 2, -12), new(-bottom / 2, -12), new((-bottom / 2) - 4, 0), new(-30, 0)]);
        var (filled, rounded) = CornerArcs.Of(Vee(4), [5, 2], 0.02, _ => false);
        Assert.Equal(2, rounded.Length);
        Assert.All(rounded, r => Assert.Equal(2, r.Radius));
        Assert.False(filled.Contains(new(0, -11.9)));
        Assert.Equal(2, CornerArcs.Of(Vee(9), [5], 0.02, _ => false).Rounded.Length);
    }

    [Fact]
    public void What_is_round_enough_stays()
    {
        var region = PlanRegion.Rectangle(new(-20, -20), new(20, 0)).Union(PlanRegion.Rectangle(new(-5, -1), new(5, 20)));
        var (once, first) = CornerArcs.Of(region, [3], 0.02, _ => false);
        var (twice, second) = CornerArcs.Of(once, [3], 0.02, _ => false);
        Assert.Equal(2, first.Length);
        Assert.Empty(second);
        Assert.Same(once, twice);
    }
}
