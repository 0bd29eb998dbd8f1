using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Plan;

/// <summary>What similarities of the plan do to a region.</summary>
public class PlanRegionTests
{
    // A right triangle with the legs 3 and 4: turned by a quarter it stands on the other leg.
    private static readonly PlanRegion Triangle = PlanRegion.Polygon([new(0, 0), new(4, 0), new(0, 3)]);

    [Fact]
    public void A_region_is_scaled_and_turned_about_the_origin_and_then_shifted()
    {
        var moved = Triangle.Transformed(2, Math.PI / 2, new(10, 1));
        Assert.Equal(4 * 6, moved.Area, 1e-12);
        Assert.True(moved.Contains(new(10 - 0.1, 1 + 7.7)));
        Assert.True(moved.Contains(new(10 - 5.7, 1 + 0.1)));
        Assert.False(moved.Contains(new(10 - 3.1, 1 + 4.1)));
    }

    [Fact]
    public void A_mirrored_region_is_mirrored_in_x_before_it_is_turned()
    {
        var moved = Triangle.Transformed(1, Math.PI / 2, new(0, 0), mirrored: true);
        Assert.Equal(6, moved.Area, 1e-12);
        Assert.True(moved.Contains(new(-0.1, -3.8)));
        Assert.True(moved.Contains(new(-2.8, -0.1)));
        Assert.False(moved.Contains(new(-0.1, 0.1)));
    }

    // A square ring, 10 wide outside and 4 inside: walls of 3. A disc fits up to 1.5 in the middle of a wall, and nowhere over the hole; distances are of the nearest side. (closed form)
    [Fact]
    public void A_disc_fits_where_both_borders_are_far_enough()
    {
        var ring = PlanRegion.Rectangle(new(-5, -5), new(5, 5)).Difference(PlanRegion.Rectangle(new(-2, -2), new(2, 2)));
        Assert.True(ring.ContainsDisc(new(3.5, 0), 1.5));
        Assert.False(ring.ContainsDisc(new(3.5, 0), 1.5001));
        Assert.False(ring.ContainsDisc(new(3, 0), 1.2));
        Assert.False(ring.ContainsDisc(new(0, 0), 0.1));
        Assert.False(ring.ContainsDisc(new(7, 0), 0.1));
        Assert.Equal(2, ring.Distance(new(0, 0)), 1e-12);
        Assert.Equal(5, ring.Distance(new(8, 9)), 1e-12);
        Assert.Equal(0, ring.Distance(new(3, 3)));
    }

    private static readonly Gen<PlanRegion> Star = Gen.Double[2, 10].Array[5, 12].Select(r => PlanRegion.Polygon([.. r.Select((d, i) => d * new Vec2(Math.Cos(2 * Math.PI * i / r.Length), Math.Sin(2 * Math.PI * i / r.Length)))]));

    // NetTopologySuite's own predicate and overlay are the reference.
    [Fact]
    public void A_rectangle_is_covered_where_the_library_says_so() => Gen.Select(Star, Gen.Double[-9, 9], Gen.Double[-9, 9], Gen.Double[0.2, 6], Gen.Double[0.2, 6]).Sample(s =>
    {
        var (star, x, y, width, height) = s;
        var ring = star.Difference(PlanRegion.Rectangle(new(-0.5, -0.5), new(0.5, 0.5)));
        var (low, high) = (new Vec2(x, y), new Vec2(x + width, y + height));
        Assert.Equal(ring.Geometry.Covers(PlanRegion.Rectangle(low, high).Geometry), ring.CoversRectangle(low, high));
    }, iter: 500);

    [Fact]
    public void A_rectangle_may_lie_along_the_border()
    {
        var square = PlanRegion.Rectangle(new(0, 0), new(10, 10));
        Assert.True(square.CoversRectangle(new(0, 2), new(10, 10)));
        Assert.False(square.CoversRectangle(new(0, 2), new(10.001, 9)));
        Assert.False(square.CoversRectangle(new(10, 2), new(12, 9)));
    }

    [Fact]
    public void The_first_point_met_is_the_nearest_of_the_overlay() => Gen.Select(Star, Gen.Double[-14, 14], Gen.Double[-14, 14], Gen.Double[-14, 14], Gen.Double[-14, 14]).Sample(s =>
    {
        var (star, x, y, u, v) = s;
        var (from, to) = (new Vec2(x, y), new Vec2(u, v));
        var line = star.Geometry.Factory.CreateLineString([new(x, y), new(u, v)]);
        var met = star.FirstMet(from, to);
        var inside = star.Geometry.Intersection(line);
        Assert.Equal(inside.IsEmpty, met is null);
        if (met is { } p) Assert.Equal(inside.Coordinates.Min(c => Vec2.Distance(new(c.X, c.Y), from)), Vec2.Distance(p, from), 1e-9);
    }, iter: 500);

    [Fact]
    public void A_way_along_a_side_meets_its_nearer_end()
    {
        var square = PlanRegion.Rectangle(new(0, 0), new(10, 10));
        Assert.Equal(new Vec2(0, 0), square.FirstMet(new(-5, 0), new(20, 0)));
        Assert.Equal(new Vec2(3, 3), square.FirstMet(new(3, 3), new(20, 3)));
        Assert.Null(square.FirstMet(new(-5, -1), new(20, -1)));
        Assert.Null(square.FirstMet(new(-5, 0), new(-1, 0)));
    }
}
