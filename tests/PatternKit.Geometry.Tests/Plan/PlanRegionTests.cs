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
}
