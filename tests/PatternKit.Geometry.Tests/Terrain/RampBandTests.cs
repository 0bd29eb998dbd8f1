using System.Collections.Immutable;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Bands of ramps against closed forms.</summary>
public class RampBandTests
{
    private const double Angle = 10 * Math.PI / 180;

    [Fact]
    public void Around_a_regular_polygon_the_bands_fill_the_ring_to_the_parallel_polygon()
    {
        const int n = 32;
        const double radius = 20;
        var plateau = PlanRegion.Polygon([.. ReferencePart.Circle(2 * radius, new(5, -3), n)]);
        var bands = Bands(plateau, 9, largestTurn: Math.PI / 6);
        // Eight or nine walls within a quarter of a turn.
        Assert.Equal(4, bands.Length);
        // Corners turn by less than the limit, so that the contour is the regular polygon about a longer apothem.
        var apothem = (radius * Math.Cos(Math.PI / n)) + (4 * Math.Tan(Angle));
        var area = n * apothem * apothem * Math.Tan(Math.PI / n);
        var ring = bands.SelectMany(b => Above(b, 5)).ToList();
        Assert.Equal(area - plateau.Area, ring.Sum(r => r.Area), 1e-9);
        Assert.Equal(area, PlanRegion.Union(ring.Append(plateau)).Area, 1e-6);
    }

    [Fact]
    public void Planes_at_a_sharp_corner_join_the_walls_beside_it()
    {
        // A square whose corners turn in three planes each: 4 walls and 8 planes.
        var bands = Bands(PlanRegion.Rectangle(new(0, 0), new(10, 10)), 9, largestTurn: Math.PI / 6);
        Assert.InRange(bands.Length, 3, 4);
        // A corner turns three times by 30°, each with a kite of r² tan 15°.
        var run = 4 * Math.Tan(Angle);
        var area = 100 + (40 * run) + (4 * 3 * run * run * Math.Tan(Math.PI / 12));
        Assert.Equal(area - 100, bands.SelectMany(b => Above(b, 5)).Sum(r => r.Area), 1e-9);
    }

    [Fact]
    public void At_a_hollow_corner_walls_stay_apart()
    {
        // An L: the ramps of the walls at the inner corner cross, and no polygon may hold both.
        var ell = PlanRegion.Polygon([new(0, 0), new(20, 0), new(20, 10), new(10, 10), new(10, 20), new(0, 20)]);
        foreach (var band in Bands(ell, 9, largestTurn: Math.PI / 6)) Assert.All(Above(band, 1), r => Assert.True(r.Geometry.IsValid));
    }

    [Theory]
    // Down to 5 the run is short for the sides of 3.9; with 128 sides of 0.98 it is too long for mitres, and the ramps are given one by one.
    [InlineData(32, 5, true)]
    [InlineData(128, 0, false)]
    public void Around_a_round_hole_the_bands_fill_the_ring_to_the_parallel_polygon(int n, double height, bool mitred)
    {
        const double radius = 20;
        var hole = PlanRegion.Polygon([.. ReferencePart.Circle(2 * radius, new(0, 0), n)]);
        var plateau = PlanRegion.Rectangle(new(-60, -50), new(60, 50)).Difference(hole);
        var sides = Bands(plateau, 60, largestTurn: Math.PI / 6).SelectMany(b => Above(b, height)).Where(r => hole.Covers(r)).ToList();
        var apothem = (radius * Math.Cos(Math.PI / n)) - ((60 - height) * Math.Tan(Angle));
        var ring = hole.Area - (n * apothem * apothem * Math.Tan(Math.PI / n));
        Assert.Equal(mitred, sides.Count < n);
        if (mitred) Assert.Equal(ring, sides.Sum(r => r.Area) - Overlap(sides), 1e-6);
        Assert.Equal(ring, PlanRegion.Union(sides).Area, 1e-6);

        static double Overlap(List<PlanRegion> sides) => sides.Sum(r => r.Area) - PlanRegion.Union(sides).Area;
    }

    private static IEnumerable<PlanRegion> Above(RampBand band, double height) => band.Above(height, 0).Select(PlanRegion.Polygon);

    private static ImmutableArray<RampBand> Bands(PlanRegion plateau, double height, double largestTurn) =>
        RampBand.Of(Ramps.Build(new PlateauEdges([new(plateau, height)], 0, Angle, Angle, TerrainBuild.Lattice).Falls(), Angle, Angle, largestTurn));
}
