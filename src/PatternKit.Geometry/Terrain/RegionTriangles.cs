using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>Cuts regions whose vertices are on the lattice into triangles.</summary>
internal static class RegionTriangles
{
    /// <summary>Triangles that cover the regions; border vertices only, no others.</summary>
    public static IEnumerable<(Vec2 A, Vec2 B, Vec2 C)> Of(IEnumerable<PlanRegion> regions, Lattice lattice)
    {
        var zoned = new ZonedTriangulation(lattice, [.. regions.SelectMany(r => r.Rings()).Select(ring => new ZonedRing(ring, 1))]);
        for (var t = 0; t < zoned.Triangles.TriangleCount; t++)
        {
            if ((zoned.Zone(t) & 1) == 0) continue;
            yield return (zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));
        }
    }
}
