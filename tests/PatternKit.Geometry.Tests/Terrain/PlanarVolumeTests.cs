using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Volumes of prisms, tetrahedra and pyramids, from Euclid XII.</summary>
public class PlanarVolumeTests
{
    private static readonly PlanRegion Square = PlanRegion.Rectangle(new(0, 0), new(8, 8));

    private static double Of(Func<Vec2, double> height, params (Vec2 From, Vec2 To)[] lines) =>
        PlanarVolume.Of(Square, lines.Select(l => (System.Collections.Immutable.ImmutableArray<Vec2>)[l.From, l.To]), Lattice.For(8), height);

    [Theory]
    [InlineData(1, 0, 0, 256)]       // A wedge.
    [InlineData(1, 0, -2, 144)]      // The same sunk: what is left of it, 6 × 6 / 2 × 8.
    [InlineData(1, 0, 2, 384)]
    [InlineData(1, 1, -8, 85.3333333333)] // A corner of a cube: 8³ / 6.
    [InlineData(1, 1, -16, 0)]
    [InlineData(-1, -1, 8, 85.3333333333)]
    [InlineData(1, 1, -4, 266.6666666667)] // All but the corner: the whole, 4 × 64, less the negative −4³ / 6.
    [InlineData(0, 0, -1, 0)]
    public void Only_what_is_above_zero_counts(double x, double y, double offset, double expected) =>
        Assert.Equal(expected, Of(p => (x * p.X) + (y * p.Y) + offset), 1e-7);

    [Fact]
    public void A_pyramid_needs_its_creases() => Assert.Equal(
        8 * 8 * 4 / 3.0,
        Of(p => Math.Min(Math.Min(p.X, 8 - p.X), Math.Min(p.Y, 8 - p.Y)), (new(0, 0), new(8, 8)), (new(0, 8), new(8, 0))), 1e-7);
}
