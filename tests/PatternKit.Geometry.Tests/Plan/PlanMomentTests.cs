using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Plan;

/// <summary>Moments and high places of regions, against the closed forms of textbooks of statics.</summary>
public class PlanMomentTests
{
    // Rectangle b × h with its lower side at u₀: bh, bh(u₀ + h/2), bh³/12 + bh(u₀ + h/2)². (parallel axes, Huygens-Steiner)
    [Fact]
    public void A_rectangle_has_the_moments_of_the_parallel_axis_theorem()
    {
        var m = PlanMoments.Of(PlanRegion.Rectangle(new(-40, 15), new(60, 85)), new(0, 1));
        Assert.Equal(100 * 70, m.Area, 1e-9);
        Assert.Equal(100 * 70 * 50.0, m.First, 1e-6);
        Assert.Equal((100 * Math.Pow(70, 3) / 12) + (100 * 70 * 50.0 * 50), m.Second, 1e-4);
    }

    // Disc: πr⁴/4 about its own diameter; a hole takes its own away. Chords of 0.001 mm.
    [Fact]
    public void A_ring_has_those_of_its_discs_along_any_direction()
    {
        var ring = PlanRegion.EvenOdd([PlanPath.Circle(new(30, -20), 100), PlanPath.Circle(new(30, -20), 40)], 0.001);
        var (s, c) = Math.SinCos(0.7);
        var m = PlanMoments.Of(ring, new(c, s));
        var (area, at) = (Math.PI * ((50 * 50) - (20 * 20)), (30 * c) - (20 * s));
        Assert.Equal(area, m.Area, 1e-4 * area);
        Assert.Equal(area * at, m.First, 1e-4 * area * Math.Abs(at));
        Assert.Equal((Math.PI * (Math.Pow(50, 4) - Math.Pow(20, 4)) / 4) + (area * at * at), m.Second, 2e-4 * m.Second);
    }

    [Fact]
    public void High_places_are_the_tops_of_posts_and_no_roofs_of_notches()
    {
        // A foot with posts of 50 and 30, a tooth of 0.5 between them, and a notch in its under side whose roof is no place for air of the metal above.
        var comb = PlanRegion.Polygon([new(0, 0), new(40, 0), new(40, 8), new(50, 8), new(50, 0), new(100, 0), new(100, 30), new(80, 30), new(80, 20), new(62, 20), new(60, 20.5), new(58, 20), new(20, 20), new(20, 50), new(0, 50)]);
        Assert.Equal([new Vec2(10, 50), new(90, 30)], PlanPeaks.Of(comb, new(0, 1), 1));
        Assert.Equal([new Vec2(10, 50), new(90, 30), new(60, 20.5)], PlanPeaks.Of(comb, new(0, 1), 0.4));
        // Upside down the foot is the roof, in two parts by the notch.
        Assert.Equal([new Vec2(20, 0), new(75, 0)], PlanPeaks.Of(comb, new(0, -1), 1).OrderBy(p => p.X));
    }

    // A hole with a spike of sand: the metal under the top of the hole's ring is caught only where it lies below it.
    [Fact]
    public void A_hole_catches_air_under_its_own_high_places_only_where_metal_lies_below()
    {
        var plate = PlanRegion.Rectangle(new(0, 0), new(100, 100));
        var w = PlanRegion.Polygon([new(30, 30), new(50, 45), new(70, 30), new(70, 60), new(30, 60)]);
        Assert.Equal([new Vec2(50, 100), new(50, 45)], PlanPeaks.Of(plate.Difference(w), new(0, 1), 1));
        Assert.Equal([new Vec2(50, 100)], PlanPeaks.Of(plate.Difference(PlanRegion.Rectangle(new(30, 30), new(70, 60))), new(0, 1), 1));
    }
}
