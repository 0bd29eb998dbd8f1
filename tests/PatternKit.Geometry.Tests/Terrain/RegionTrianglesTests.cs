using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Convex pieces are cut without a structure; the closed form is the area, the reference the largest smallest angle, which a Delaunay triangulation has.</summary>
public class RegionTrianglesTests
{
    private static readonly Lattice Lattice = Lattice.For(100);

    [Fact]
    public void Convex_pieces_are_covered_by_triangles_whose_circles_hold_no_other_corner() => Gen.Double[0, 2 * Math.PI].Array[3, 11].Sample(angles =>
    {
        Vec2[] ring = [.. angles.Order().Select(a => Lattice.Snap(new Vec2(30 * Math.Cos(a), 12 * Math.Sin(a)))).Distinct()];
        if (ring.Length < 3) return;
        var triangles = RegionTriangles.Of([PlanRegion.Polygon(ring)], Lattice).ToArray();
        Assert.Equal(ring.Length - 2, triangles.Length);
        Assert.All(triangles, t => Assert.True(Vec2.Cross(t.B - t.A, t.C - t.A) > 0));
        Assert.Equal(PlanRegion.Polygon(ring).Area, triangles.Sum(t => Vec2.Cross(t.B - t.A, t.C - t.A) / 2), 1e-9);
        foreach (var (a, b, c) in triangles)
        {
            var centre = Centre(a, b, c);
            Assert.All(ring, p => Assert.True(Vec2.Distance(p, centre) >= Vec2.Distance(a, centre) * (1 - 1e-6)));
        }
    });

    // Corners in the middle of sides, as neighbours leave them, are corners of triangles too: else the ground would have cracks.
    [Fact]
    public void Corners_on_straight_sides_are_kept()
    {
        Vec2[] ring = [new(0, 0), new(2, 0), new(4, 0), new(9, 0), new(9, 3), new(9, 5), new(4, 5), new(0, 5), new(0, 2)];
        for (var turn = 0; turn < ring.Length; turn++)
        {
            var triangles = RegionTriangles.Of([PlanRegion.Polygon([.. ring[turn..], .. ring[..turn]])], Lattice).ToArray();
            Assert.Equal(ring.Length - 2, triangles.Length);
            Assert.Equal(45, triangles.Sum(t => Vec2.Cross(t.B - t.A, t.C - t.A) / 2), 1e-9);
            Assert.Superset(ring.ToHashSet(), triangles.SelectMany(t => new[] { t.A, t.B, t.C }).ToHashSet());
        }
    }

    private static Vec2 Centre(Vec2 a, Vec2 b, Vec2 c)
    {
        var (p, q) = (b - a, c - a);
        var twice = 2 * Vec2.Cross(p, q);
        return a + (1 / twice * new Vec2((q.Y * p.LengthSquared) - (p.Y * q.LengthSquared), (p.X * q.LengthSquared) - (q.X * p.LengthSquared)));
    }
}
