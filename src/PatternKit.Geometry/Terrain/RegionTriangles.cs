using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Triangulation;
using static PatternKit.Geometry.Triangulation.LatticePredicates;

namespace PatternKit.Geometry.Terrain;

/// <summary>Cuts regions whose vertices are on the lattice into triangles.</summary>
internal static class RegionTriangles
{
    /// <summary>A convex ring of so few corners is cut by looking at all of them.</summary>
    private const int Few = 12;

    /// <summary>Triangles that cover the regions; border vertices only, no others.</summary>
    public static IEnumerable<(Vec2 A, Vec2 B, Vec2 C)> Of(IReadOnlyList<PlanRegion> regions, Lattice lattice)
    {
        // Round bodies are made of strips by the hundred.
        if (regions.Count == 1 && regions[0].Rings() is [{ Length: <= Few } only] && Convex(only, lattice) is { } cut) return cut;
        return Any(regions, lattice);
    }

    private static IEnumerable<(Vec2 A, Vec2 B, Vec2 C)> Any(IReadOnlyList<PlanRegion> regions, Lattice lattice)
    {
        var zoned = new ZonedTriangulation(lattice, [.. regions.SelectMany(r => r.Rings()).Select(ring => new ZonedRing(ring, 1))]);
        for (var t = 0; t < zoned.Triangles.TriangleCount; t++)
        {
            if ((zoned.Zone(t) & 1) == 0) continue;
            yield return (zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));
        }
    }

    /// <summary>The Delaunay triangles of a ring that turns right nowhere, on each chord the corner whose circle holds no other; null where it does turn right.</summary>
    private static List<(Vec2 A, Vec2 B, Vec2 C)>? Convex(IReadOnlyList<Vec2> ring, Lattice lattice)
    {
        var n = ring.Count;
        Span<LatticePoint> corners = stackalloc LatticePoint[n];
        for (var i = 0; i < n; i++) corners[i] = new(lattice.Index(ring[i].X), lattice.Index(ring[i].Y));
        for (var i = 0; i < n; i++)
            if (Orient(corners[i], corners[(i + 1) % n], corners[(i + 2) % n]) < 0) return null;
        var found = new List<(Vec2 A, Vec2 B, Vec2 C)>(n - 2);
        // A corner in the middle of a straight side lies within the circle over any chord along it, and is taken first.
        Cut(corners, 0, n - 1);
        return found.Count == n - 2 ? found : null;

        void Cut(ReadOnlySpan<LatticePoint> at, int from, int to)
        {
            var apex = -1;
            for (var k = from + 1; k < to; k++)
            {
                if (Orient(at[from], at[k], at[to]) <= 0) continue;
                if (apex < 0 || InCircle(at[from], at[apex], at[to], at[k]) > 0) apex = k;
            }

            if (apex < 0) return;
            found.Add((ring[from], ring[apex], ring[to]));
            Cut(at, from, apex);
            Cut(at, apex, to);
        }
    }
}
