using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// What of a mesh is seen from above over level ground: a graph over the plan, but for upright walls, which are left out. Under what hangs over it ends, with the border of what
/// hides it.
/// </summary>
internal static class VisibleSkin
{
    /// <summary>
    /// What is narrower in plan than so many lattice steps hides but is not seen, since upright walls are so within rounding. That widens the space above by no more; seen where it
    /// is hidden, it would open a shaft.
    /// </summary>
    private const double Narrow = 16;

    /// <summary>The facets seen, facing up and cut off at the ground, and the plan of the body above it, its corners on the lattice.</summary>
    /// <param name="mesh">Closed or not, z up.</param>
    /// <param name="ground">Height of the ground.</param>
    /// <param name="lattice">Its corners are put on it.</param>
    public static (ImmutableArray<(Vec3 A, Vec3 B, Vec3 C)> Facets, PlanRegion Shadow) Of(TriangleMesh mesh, double ground, Lattice lattice)
    {
        var skin = MeshSkin.Of(mesh, ground, lattice);
        var faces = new List<int>();
        for (var f = 0; f < skin.Facets.Length; f++)
        {
            var (a, b, c) = skin.Triangle(f);
            if (Vec2.Cross(b.Plan - a.Plan, c.Plan - a.Plan) > 0 && Math.Max(a.Z, Math.Max(b.Z, c.Z)) > ground) faces.Add(f);
        }

        var shadow = MeshSection.Of(lattice, new GroundPatches(skin, faces, lattice).Above(ground, p => faces.Exists(f => skin.Triangle(f) is var t && IsOver(t.A, t.B, t.C, p) && PlaneOf(t).At(p) > ground)));
        var triangles = faces.Select(skin.Triangle).ToArray();
        var hidden = Hidden(triangles, lattice);
        var seen = new List<(Vec3, Vec3, Vec3)>[triangles.Length];
        Parallel.For(0, seen.Length, i => seen[i] = IsNarrow(triangles[i], lattice) ? [] : Seen(triangles[i], hidden[i], ground, lattice));
        return ([.. seen.SelectMany(s => s)], shadow);
    }

    /// <summary>Level ground as triangles that face up.</summary>
    public static IEnumerable<(Vec3 A, Vec3 B, Vec3 C)> Level(PlanRegion region, double height, Lattice lattice) =>
        RegionTriangles.Of([region], lattice).Select(t =>
        {
            var (b, c) = Vec2.Cross(t.B - t.A, t.C - t.A) > 0 ? (t.B, t.C) : (t.C, t.B);
            return (new Vec3(t.A.X, t.A.Y, height), new Vec3(b.X, b.Y, height), new Vec3(c.X, c.Y, height));
        });

    /// <summary>For each triangle the convex pieces of its plan over which another is higher; null for none.</summary>
    private static List<PlanRegion>?[] Hidden((Vec3 A, Vec3 B, Vec3 C)[] triangles, Lattice lattice)
    {
        var hidden = new List<PlanRegion>?[triangles.Length];
        Box3[] boxes = [.. triangles.Select(t => Box3.Empty.With(t.A with { Z = 0 }).With(t.B with { Z = 0 }).With(t.C with { Z = 0 }))];
        new FacetTree(boxes, [.. Enumerable.Range(0, triangles.Length)]).MeetingPairs((i, j) =>
        {
            var (s, t) = (triangles[i], triangles[j]);
            if (IsBeside(s, t) || IsBeside(t, s)) return true;
            var both = ConvexCut.Within([s.A.Plan, s.B.Plan, s.C.Plan], t.A.Plan, t.B.Plan, t.C.Plan);
            if (both.Count < 3) return true;
            var (first, second) = (PlaneOf(s), PlaneOf(t));
            var slack = 4 * lattice.Step * (1 + first.Slope + second.Slope);
            Add(i, ConvexCut.Where(both, p => second.At(p) - first.At(p) - slack));
            Add(j, ConvexCut.Where(both, p => first.At(p) - second.At(p) - slack));
            return true;
        });
        return hidden;

        void Add(int i, List<Vec2> under)
        {
            if (under.Count >= 3) (hidden[i] ??= []).Add(PlanRegion.Polygon(under));
        }
    }

    /// <summary>Whether all of a triangle lies outside one side of another, in plan.</summary>
    private static bool IsBeside((Vec3 A, Vec3 B, Vec3 C) t, (Vec3 A, Vec3 B, Vec3 C) of)
    {
        return Outside(of.A.Plan, of.B.Plan) || Outside(of.B.Plan, of.C.Plan) || Outside(of.C.Plan, of.A.Plan);

        bool Outside(Vec2 a, Vec2 b) => Vec2.Cross(b - a, t.A.Plan - a) <= 0 && Vec2.Cross(b - a, t.B.Plan - a) <= 0 && Vec2.Cross(b - a, t.C.Plan - a) <= 0;
    }

    private static List<(Vec3, Vec3, Vec3)> Seen((Vec3 A, Vec3 B, Vec3 C) t, List<PlanRegion>? hidden, double ground, Lattice lattice)
    {
        if (hidden is null && Math.Min(t.A.Z, Math.Min(t.B.Z, t.C.Z)) >= ground) return [t];
        var (plane, low, high) = (PlaneOf(t), Math.Min(t.A.Z, Math.Min(t.B.Z, t.C.Z)), Math.Max(t.A.Z, Math.Max(t.B.Z, t.C.Z)));
        var over = ConvexCut.Where([t.A.Plan, t.B.Plan, t.C.Plan], p => plane.At(p) - ground);
        if (over.Count < 3) return [];
        if (hidden is null) return [.. Enumerable.Range(1, over.Count - 2).Select(k => (Raised(over[0]), Raised(over[k]), Raised(over[k + 1])))];
        var left = PlanRegion.UnionOn(lattice, [PlanRegion.UnionOn(lattice, [PlanRegion.Polygon(over)]).Difference(MeshSection.Of(lattice, hidden))]).WithoutSlivers(Narrow * lattice.Step);
        return left.IsEmpty ? [] : [.. Level(left, 0, lattice).Select(s => (Raised(s.A.Plan), Raised(s.B.Plan), Raised(s.C.Plan)))];

        // Rounding in plan moves a point of a steep facet far up or down, but not beyond its corners.
        Vec3 Raised(Vec2 p) => new(p.X, p.Y, Math.Clamp(plane.At(p), Math.Max(low, ground), high));
    }

    private static bool IsNarrow((Vec3 A, Vec3 B, Vec3 C) t, Lattice lattice)
    {
        var longest = Math.Max(Vec2.Distance(t.A.Plan, t.B.Plan), Math.Max(Vec2.Distance(t.B.Plan, t.C.Plan), Vec2.Distance(t.C.Plan, t.A.Plan)));
        return Vec2.Cross(t.B.Plan - t.A.Plan, t.C.Plan - t.A.Plan) <= Narrow * lattice.Step * longest;
    }

    private static HeightPlane PlaneOf((Vec3 A, Vec3 B, Vec3 C) t) => HeightPlane.Through(t.A, t.B, t.C);

    private static bool IsOver(Vec3 a, Vec3 b, Vec3 c, Vec2 p) =>
        Vec2.Cross(b.Plan - a.Plan, p - a.Plan) >= 0 && Vec2.Cross(c.Plan - b.Plan, p - b.Plan) >= 0 && Vec2.Cross(a.Plan - c.Plan, p - c.Plan) >= 0;
}
