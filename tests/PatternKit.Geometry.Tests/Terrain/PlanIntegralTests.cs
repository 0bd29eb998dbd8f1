using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

public class PlanIntegralTests
{
    // ∫ (1 + x) over [0, 2] × [0, 3] is 12, and ∫ x (1 + x) is 14. (closed form)
    [Fact]
    public void Integral_and_moment_of_a_plane_are_exact()
    {
        var (integral, moment) = PlanIntegral.Of(p => 1 + p.X, p => p.X, PlanRegion.Rectangle(default, new(2, 3)), [], Lattice.For(10), 1e-9, 1);
        Assert.Equal(12, integral, 1e-9);
        Assert.Equal(14, moment, 1e-9);
    }

    // Half a ball of radius r stands over its disc: 2 π r³ / 3; its centre is over the middle, wherever the arm begins. (closed form)
    [Fact]
    public void A_dome_balances_over_its_middle()
    {
        const double r = 5, x = 7;
        Vec2 middle = new(x, -2);
        var disc = PlanRegion.EvenOdd([PlanPath.Circle(middle, 2 * r)], 1e-5);
        var (integral, moment) = PlanIntegral.Of(p => Math.Sqrt(Math.Max(0, (r * r) - (p - middle).LengthSquared)), p => p.X, disc, [], Lattice.For(20), 1e-3, 1);
        Assert.Equal(2 * Math.PI * r * r * r / 3, integral, 0.02);
        Assert.Equal(x, moment / integral, 1e-4);
    }

    [Fact]
    public void Nothing_has_no_integral() =>
        Assert.Equal((0, 0), PlanIntegral.Of(_ => 1, _ => 1, PlanRegion.Empty, ImmutableArray<ImmutableArray<Vec2>>.Empty, Lattice.For(10), 1e-3, 1));
}
