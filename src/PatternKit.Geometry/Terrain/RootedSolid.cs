using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A solid that stands on level ground, joined with a root of plane faces below it. Both meet in the ground: what of it only the one covers is skin, what both cover
/// is inside. The borders of both are noded together, and sides of facets along them get the points that this gives.
/// </summary>
public static class RootedSolid
{
    /// <summary>Joins a solid with its root.</summary>
    /// <param name="solid">A closed mesh on the level z = 0, corners on the lattice.</param>
    /// <param name="mouth">Where the root meets the ground: convex, corners on the lattice, turning left seen from above.</param>
    /// <param name="root">The other faces of the root, convex polygons below the ground but for their sides along the mouth, turning left seen from outside.</param>
    /// <param name="lattice">Of all corners.</param>
    public static TriangleMesh Of(TriangleMesh solid, ImmutableArray<Vec2> mouth, ImmutableArray<ImmutableArray<Vec3>> root, Lattice lattice)
    {
        var v = solid.Vertices;
        bool IsBase(Facet f) => v[f.A].Z == 0 && v[f.B].Z == 0 && v[f.C].Z == 0;
        var below = solid.Facets.Where(IsBase).ToArray();
        var sides = below.SelectMany(f => new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) }).ToHashSet();
        // Seen from above, the base turns right; its border with the base on the left runs the other way.
        var rim = sides.Where(s => !sides.Contains((s.Item2, s.Item1))).Select(s => (From: v[s.Item2].Plan, To: v[s.Item1].Plan)).ToArray();
        var ground = new ZonedTriangulation(lattice, [.. SideLoops.Of(rim).Select(l => new ZonedRing(l, 1)), new(mouth, 2)]);
        var triangles = new List<(Vec3 A, Vec3 B, Vec3 C)>();
        var nodes = new HashSet<Vec2>();
        for (var t = 0; t < ground.Triangles.TriangleCount; t++)
        {
            if (ground.Zone(t) == 0) continue;
            var (a, b, c) = (ground.Corner(t, 0), ground.Corner(t, 1), ground.Corner(t, 2));
            nodes.UnionWith([a, b, c]);
            if (ground.Zone(t) == 1) triangles.Add((On(a), On(c), On(b)));
            else if (ground.Zone(t) == 2) triangles.Add((On(a), On(b), On(c)));
        }

        Vec2[] added = [.. nodes.Except(rim.Select(r => r.From)).Except(mouth)];
        // The other's corners may lie on a side as well.
        Vec2[] known = [.. added, .. rim.Select(r => r.From), .. mouth];
        var borders = rim.Select(r => (r.From, r.To)).ToHashSet();
        foreach (var f in solid.Facets)
        {
            if (IsBase(f)) continue;
            triangles.AddRange(Fan([v[f.A], v[f.B], v[f.C]], (p, q) => borders.Contains((p.Plan, q.Plan)), known, lattice.Step));
        }

        foreach (var face in root) triangles.AddRange(Fan([.. face], (_, _) => true, known, lattice.Step));
        return MeshBuilder.SeparatePinches(MeshBuilder.Weld(triangles));

        static Vec3 On(Vec2 p) => new(p.X, p.Y, 0);
    }

    /// <summary>A convex face with the points on those of its sides that lie in the ground, from a corner off the ground.</summary>
    private static IEnumerable<(Vec3 A, Vec3 B, Vec3 C)> Fan(Vec3[] face, Func<Vec3, Vec3, bool> isBorder, Vec2[] known, double step)
    {
        var ring = new List<Vec3>();
        for (var i = 0; i < face.Length; i++)
        {
            var (a, b) = (face[i], face[(i + 1) % face.Length]);
            ring.Add(a);
            if (a.Z != 0 || b.Z != 0 || !isBorder(a, b)) continue;
            var way = (b - a).Plan;
            ring.AddRange(known.Where(p => p != a.Plan && p != b.Plan)
                .Select(p => (P: p, Along: Vec2.Dot(p - a.Plan, way) / way.LengthSquared))
                .Where(p => p.Along is > 0 and < 1 && Vec2.Distance(a.Plan + (p.Along * way), p.P) <= 1.5 * step)
                .OrderBy(p => p.Along).Select(p => new Vec3(p.P.X, p.P.Y, 0)));
        }

        var apex = ring.FindIndex(p => p.Z != 0);
        for (var i = 1; i + 1 < ring.Count; i++) yield return (ring[apex], ring[(apex + i) % ring.Count], ring[(apex + i + 1) % ring.Count]);
    }
}
