using NetTopologySuite.Geometries;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Columns;

/// <summary>All outlines of some regions cut at their crossings, every vertex on the lattice (<see cref="SnapRounding"/>), each piece with the regions whose border it is.</summary>
internal static class NodedOutlines
{
    /// <summary>So far from the origin, in steps, all signs are exact.</summary>
    private const double Farthest = 1 << 25;

    /// <summary>
    /// The pieces in ascending order. A piece that a region's border runs along an even number of times, such as the
    /// two sides of a sliver that the lattice closed, is no border of that region. Pieces of the cuts belong to no region.
    /// </summary>
    /// <exception cref="ArgumentException">A point is too far from the origin for the step.</exception>
    internal static List<(Coordinate A, Coordinate B, List<int> Regions)> Of(IReadOnlyList<PlanRegion> regions, double step, IReadOnlyList<(Vec2 From, Vec2 To)> cuts)
    {
        var lines = new List<LatticePoint[]>();
        var regionOf = new List<int>();
        for (var i = 0; i < regions.Count; i++)
        {
            foreach (var ring in regions[i].Rings())
            {
                lines.Add([.. ring.Append(ring[0]).Select(OnLattice)]);
                regionOf.Add(i);
            }
        }

        if (lines.Count == 0) return [];
        foreach (var (from, to) in cuts)
        {
            lines.Add([OnLattice(from), OnLattice(to)]);
            regionOf.Add(-1);
        }

        var noded = SnapRounding.Noded(lines);
        var pieces = new Dictionary<(LatticePoint A, LatticePoint B), (List<int> Regions, bool IsCut)>();
        for (var i = 0; i < noded.Length; i++)
        {
            for (var k = 1; k < noded[i].Length; k++)
            {
                var (p, q) = (noded[i][k - 1], noded[i][k]);
                if (p == q) continue;
                var key = IsBefore(p, q) ? (p, q) : (q, p);
                var (list, isCut) = pieces.TryGetValue(key, out var known) ? known : ([], false);
                if (regionOf[i] < 0) isCut = true;
                else if (!list.Remove(regionOf[i])) list.Add(regionOf[i]);
                pieces[key] = (list, isCut);
            }
        }

        return [.. pieces.Where(p => p.Value.Regions.Count > 0 || p.Value.IsCut).OrderBy(p => (p.Key.A.X, p.Key.A.Y, p.Key.B.X, p.Key.B.Y)).Select(p =>
            (At(p.Key.A), At(p.Key.B), p.Value.Regions))];

        LatticePoint OnLattice(Vec2 p) => new(Index(p.X), Index(p.Y));

        int Index(double x) => Math.Abs(x / step) <= Farthest ? (int)Math.Floor((x / step) + 0.5) : throw new ArgumentException("A point is too far from the origin for the step.", nameof(regions));

        Coordinate At(LatticePoint p) => new(p.X * step, p.Y * step);
    }

    private static bool IsBefore(LatticePoint p, LatticePoint q) => p.X < q.X || (p.X == q.X && p.Y < q.Y);
}
