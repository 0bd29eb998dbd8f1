using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A hollow with plane faces, sunk into a closed mesh through plane faces of its skin: those are triangulated anew with its mouths left out, and its lining joined to
/// them. Nothing else of the mesh changes, so that what was sound stays so. A mouth lies inside one face, or shares a side with a mouth in the next face, where the hollow
/// opens over the edge between both.
/// </summary>
public static class SunkHollow
{
    /// <summary>Corners of a plane face lie no farther from its plane, mm: a few lattice steps of a body a metre long.</summary>
    private const double OnPlane_mm = 5e-4;

    /// <summary>Sinks a hollow.</summary>
    /// <param name="body">A closed mesh with all corners on the lattice.</param>
    /// <param name="mouths">Convex polygons in plane faces of the body, corners on the lattice, turning left seen from outside.</param>
    /// <param name="lining">Convex polygons that close the hollow, corners on the lattice, turning left seen from within it; together with the mouths they bound it.</param>
    /// <param name="lattice">Of the body.</param>
    /// <exception cref="ArgumentException">A mouth lies in no plane face of the body, or leaves it.</exception>
    public static TriangleMesh Of(TriangleMesh body, ImmutableArray<ImmutableArray<Vec3>> mouths, ImmutableArray<ImmutableArray<Vec3>> lining, Lattice lattice)
    {
        var (points, numbers) = (body.Vertices.ToList(), new Dictionary<Vec3, int>());
        ImmutableArray<int>[] rings = [.. mouths.Select(m => m.Select(Number).ToImmutableArray())];
        var shared = rings.SelectMany(Sides).ToHashSet();
        var sides = new Dictionary<(int, int), int>();
        for (var f = 0; f < body.Facets.Length; f++)
            foreach (var side in Sides(body.Facets[f])) sides[side] = f;

        var taken = new HashSet<int>();
        var made = new List<Facet>();
        foreach (var ring in rings)
        {
            var corners = ring.Select(v => points[v]).ToArray();
            var face = FaceOf(body, corners, sides);
            if (face.Any(f => !taken.Add(f))) throw new ArgumentException("Two mouths lie in one plane face.", nameof(mouths));
            var loops = Loops(body, face, sides);
            var open = Enumerable.Range(0, ring.Length).Where(i => shared.Contains((ring[(i + 1) % ring.Length], ring[i]))).ToArray();
            if (open.Length > 1) throw new ArgumentException("A mouth goes over more than one edge.", nameof(mouths));
            if (open.Length == 0) loops.Add([.. ring.Reverse()]);
            else Open(loops, points, [.. Enumerable.Range(1, ring.Length).Select(k => ring[(open[0] + k) % ring.Length])]);
            made.AddRange(Triangles(points, loops, Normal(corners), lattice));
        }

        foreach (var polygon in lining.Select(p => p.Select(Number).ToArray()))
            for (var i = 1; i + 1 < polygon.Length; i++) made.Add(new(polygon[0], polygon[i], polygon[i + 1]));
        return Used(points, [.. body.Facets.Where((_, f) => !taken.Contains(f)), .. made]);

        // Corners of the hollow are new points: where one coincides with a corner of the body, its face is refused.
        int Number(Vec3 p)
        {
            if (numbers.TryGetValue(p, out var v)) return v;
            numbers.Add(p, points.Count);
            points.Add(p);
            return points.Count - 1;
        }
    }

    private static IEnumerable<(int From, int To)> Sides(ImmutableArray<int> ring) => ring.Select((v, i) => (v, ring[(i + 1) % ring.Length]));

    private static (int From, int To)[] Sides(Facet f) => [(f.A, f.B), (f.B, f.C), (f.C, f.A)];

    private static Vec3 Normal(Vec3[] ring)
    {
        var sum = default(Vec3);
        for (var i = 1; i + 1 < ring.Length; i++) sum += Vec3.Cross(ring[i] - ring[0], ring[i + 1] - ring[0]);
        return 1 / sum.Length * sum;
    }

    /// <summary>The facets that lie in the plane of a mouth and hang together with that under its middle.</summary>
    private static HashSet<int> FaceOf(TriangleMesh body, Vec3[] mouth, Dictionary<(int, int), int> sides)
    {
        var normal = Normal(mouth);
        var middle = 1.0 / mouth.Length * mouth.Aggregate((a, b) => a + b);
        bool IsOn(int v) => Math.Abs(Vec3.Dot(body.Vertices[v] - middle, normal)) <= OnPlane_mm;
        bool Lies(int f) => IsOn(body.Facets[f].A) && IsOn(body.Facets[f].B) && IsOn(body.Facets[f].C);
        var first = Enumerable.Range(0, body.Facets.Length).Where(Lies).Where(f => Holds(f)).Select(f => (int?)f).FirstOrDefault()
            ?? throw new ArgumentException("A mouth lies in no plane face of the body.", nameof(mouth));
        var found = new HashSet<int> { first };
        var next = new Stack<int>([first]);
        while (next.TryPop(out var f))
        {
            foreach (var (a, b) in Sides(body.Facets[f]))
                if (sides.TryGetValue((b, a), out var n) && Lies(n) && found.Add(n)) next.Push(n);
        }

        return found;

        bool Holds(int f)
        {
            var (a, b, c) = (body.Vertices[body.Facets[f].A], body.Vertices[body.Facets[f].B], body.Vertices[body.Facets[f].C]);
            var area = body.AreaNormal(body.Facets[f]);
            if (Vec3.Dot(area, normal) <= 0) return false;
            double Side(Vec3 p, Vec3 q) => Vec3.Dot(Vec3.Cross(q - p, middle - p), normal);
            return Side(a, b) >= 0 && Side(b, c) >= 0 && Side(c, a) >= 0;
        }
    }

    /// <summary>The borders of a face, with the face on their left.</summary>
    private static List<ImmutableArray<int>> Loops(TriangleMesh body, HashSet<int> face, Dictionary<(int, int), int> sides) =>
        [.. SideLoops.Of([.. face.Order().SelectMany(f => Sides(body.Facets[f])).Where(s => !sides.TryGetValue((s.To, s.From), out var n) || !face.Contains(n)).OrderBy(s => s.From)])];

    /// <summary>Leads the border that a mouth opens round it.</summary>
    /// <param name="loops">Borders of the face.</param>
    /// <param name="points">All points.</param>
    /// <param name="mouth">The mouth turning left, from the end of its open side round to the start of that.</param>
    private static void Open(List<ImmutableArray<int>> loops, List<Vec3> points, ImmutableArray<int> mouth)
    {
        var (from, to) = (points[mouth[^1]], points[mouth[0]]);
        for (var k = 0; k < loops.Count; k++)
        {
            if (On(loops[k], from) is not { } i || On(loops[k], to) is not { } j || (i.Side == j.Side && i.Along >= j.Along)) continue;
            var (loop, n) = (loops[k], loops[k].Length);
            // What lies between both ends of the open side is left out; it comes back round the mouth.
            var kept = Enumerable.Range(1, i.Side == j.Side ? n : (i.Side - j.Side + n) % n).Select(s => loop[(j.Side + s) % n]);
            loops[k] = [.. kept, .. mouth.Reverse()];
            return;
        }

        throw new ArgumentException("The open side of a mouth is not on the border of its face.", nameof(mouth));

        (int Side, double Along)? On(ImmutableArray<int> loop, Vec3 p)
        {
            for (var i = 0; i < loop.Length; i++)
            {
                var (a, b) = (points[loop[i]], points[loop[(i + 1) % loop.Length]]);
                var way = b - a;
                var along = Vec3.Dot(p - a, way) / Vec3.Dot(way, way);
                if (along is > 0 and < 1 && (a + (along * way) - p).Length <= OnPlane_mm) return (i, along);
            }

            return null;
        }
    }

    /// <summary>The face between its borders, seen along the axis that it is squarest to: corners stay on the lattice so, and no sign is a matter of rounding.</summary>
    private static IEnumerable<Facet> Triangles(List<Vec3> points, List<ImmutableArray<int>> loops, Vec3 normal, Lattice lattice)
    {
        var (x, y, z) = (Math.Abs(normal.X), Math.Abs(normal.Y), Math.Abs(normal.Z));
        var (axis, isTurned) = z >= x && z >= y ? (2, normal.Z < 0) : y >= x ? (1, normal.Y < 0) : (0, normal.X < 0);
        Vec2 Seen(int v) => axis switch { 2 => points[v].Plan, 1 => new(points[v].Z, points[v].X), _ => new(points[v].Y, points[v].Z) };
        var at = new Dictionary<Vec2, int>();
        foreach (var v in loops.SelectMany(l => l)) at.TryAdd(Seen(v), v);
        var cut = new ZonedTriangulation(lattice, [.. loops.Select(l => new ZonedRing([.. l.Select(Seen)], 1))], areNoded: true);
        for (var t = 0; t < cut.Triangles.TriangleCount; t++)
        {
            if ((cut.Zone(t) & 1) == 0) continue;
            if (!at.TryGetValue(cut.Corner(t, 0), out var a) || !at.TryGetValue(cut.Corner(t, 1), out var b) || !at.TryGetValue(cut.Corner(t, 2), out var c))
                throw new ArgumentException("A mouth leaves its face.", nameof(loops));
            yield return isTurned ? new(a, c, b) : new(a, b, c);
        }
    }

    /// <summary>The facets with the points that they use.</summary>
    internal static TriangleMesh Used(IReadOnlyList<Vec3> points, IReadOnlyList<Facet> facets)
    {
        var numbers = new Dictionary<int, int>();
        var kept = ImmutableArray.CreateBuilder<Vec3>();
        int Kept(int v)
        {
            if (numbers.TryGetValue(v, out var n)) return n;
            numbers.Add(v, kept.Count);
            kept.Add(points[v]);
            return kept.Count - 1;
        }

        ImmutableArray<Facet> renumbered = [.. facets.Select(f => new Facet(Kept(f.A), Kept(f.B), Kept(f.C)))];
        return new(kept.ToImmutable(), renumbered);
    }
}
