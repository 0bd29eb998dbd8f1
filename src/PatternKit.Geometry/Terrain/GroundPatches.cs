using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Polygonize;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Facets of a mesh that look up, in patches joined by common sides. What of a patch rises above a height is bounded by its own border and by
/// the cuts of the facets that cross the height, so no facet that lies above as a whole is touched.
/// </summary>
internal sealed class GroundPatches
{
    private readonly MeshSkin skin;
    private readonly Lattice lattice;
    private readonly Patch[] patches;

    /// <summary>Finds the patches.</summary>
    /// <param name="skin">The mesh.</param>
    /// <param name="faces">The facets.</param>
    /// <param name="lattice">Where crossings are put.</param>
    public GroundPatches(MeshSkin skin, IReadOnlyList<int> faces, Lattice lattice)
    {
        (this.skin, this.lattice) = (skin, lattice);
        var isFace = new bool[skin.Facets.Length];
        foreach (var f in faces) isFace[f] = true;
        var sets = new DisjointSets(isFace.Length);
        var border = new List<int>();
        for (var e = 0; e < skin.EdgeCount; e++)
        {
            var sides = skin.Sides(e);
            int first = -1, second = -1, count = 0;
            foreach (var s in sides)
            {
                if (!isFace[s / 3]) continue;
                count++;
                if (first < 0) first = s;
                else second = s;
            }

            // A side with one neighbour that runs the other way is inside.
            if (count == 2 && skin.Start(first) == skin.End(second)) sets.Join(first / 3, second / 3);
            else foreach (var s in sides)
                if (isFace[s / 3]) border.Add(s);
        }

        var byRoot = new SortedDictionary<int, (List<int> Facets, List<int> Border)>();
        foreach (var f in faces.Order())
        {
            if (!byRoot.TryGetValue(sets.Find(f), out var patch)) byRoot.Add(sets.Find(f), patch = ([], []));
            patch.Facets.Add(f);
        }

        foreach (var s in border) byRoot[sets.Find(s / 3)].Border.Add(s);
        patches = [.. byRoot.Values.Select(p => new Patch([.. p.Facets], [.. p.Border]))];
    }

    private sealed record Patch(int[] Facets, int[] Border);

    /// <summary>The regions above a height, one for each patch that has any.</summary>
    /// <param name="height">Height.</param>
    /// <param name="isCovered">Whether something, of whatever patch, rises above the height over a point of the plan.</param>
    public IEnumerable<PlanRegion> Above(double height, Func<Vec2, bool> isCovered) => patches.Select(p => Above(p, height, isCovered)).Where(r => !r.IsEmpty);

    private PlanRegion Above(Patch patch, double height, Func<Vec2, bool> isCovered)
    {
        var border = new List<LineString>();
        var (twice, origin) = (0.0, default(Vec2));
        foreach (var side in patch.Border)
        {
            var (a, b) = (skin.Vertices[skin.Start(side)], skin.Vertices[skin.End(side)]);
            if (a.Z <= height && b.Z <= height) continue;
            Add(a.Z > height ? a.Plan : Cut(a, b, height), b.Z > height ? b.Plan : Cut(a, b, height));
        }

        foreach (var f in patch.Facets)
        {
            var (a, b, c) = skin.Triangle(f);
            bool x = a.Z > height, y = b.Z > height, z = c.Z > height;
            if (x == y && y == z) continue;
            // From where the outline leaves what is above to where it comes back.
            var (leaves, returns) = (default(Vec2), default(Vec2));
            Walk(a, x, b, y);
            Walk(b, y, c, z);
            Walk(c, z, a, x);
            Add(leaves, returns);

            void Walk(Vec3 p, bool isAbove, Vec3 q, bool isNextAbove)
            {
                if (isAbove && !isNextAbove) leaves = Cut(p, q, height);
                else if (!isAbove && isNextAbove) returns = Cut(p, q, height);
            }
        }

        if (border.Count == 0) return PlanRegion.Empty;
        var polygonizer = new Polygonizer(extractOnlyPolygonal: true);
        polygonizer.Add(border.ToArray<NetTopologySuite.Geometries.Geometry>());
        var region = PlanRegion.From(polygonizer.GetGeometry());
        // The border of a patch that lies over itself, as a spiral does, crosses itself.
        return Math.Abs((2 * region.Area) - twice) <= 1e-6 * Math.Max(1, twice) ? region : Covered(border, isCovered);

        void Add(Vec2 from, Vec2 to)
        {
            if (from == to) return;
            if (border.Count == 0) origin = from;
            twice += Vec2.Cross(from - origin, to - origin);
            border.Add(new([new Coordinate(from.X, from.Y), new Coordinate(to.X, to.Y)]));
        }
    }

    /// <summary>The covered ones of the faces that a border cuts the plan into.</summary>
    private PlanRegion Covered(List<LineString> border, Func<Vec2, bool> isCovered)
    {
        var polygonizer = new Polygonizer();
        var seen = new HashSet<(LatticePoint, LatticePoint)>();
        foreach (var points in SnapRounding.Noded([.. border.Select(l => new[] { Index(l[0]), Index(l[1]) })]))
            for (var i = 1; i < points.Length; i++)
            {
                var (a, b) = (points[i - 1], points[i]);
                if ((a.X, a.Y).CompareTo((b.X, b.Y)) > 0) (a, b) = (b, a);
                if (seen.Add((a, b))) polygonizer.Add(new LineString([Position(a), Position(b)]));
            }

        return PlanRegion.UnionOfCoverage(polygonizer.GetPolygons().Select(PlanRegion.From).Where(f => isCovered(f.InnerPoint)));
    }

    private LatticePoint Index(Coordinate c) => new(lattice.Index(c.X), lattice.Index(c.Y));

    private Coordinate Position(LatticePoint p) => new(p.X * lattice.Step, p.Y * lattice.Step);

    /// <summary>Where a side crosses a height, the same number from either facet.</summary>
    private static Vec2 Cut(Vec3 a, Vec3 b, double height)
    {
        var (high, low) = a.Z > b.Z ? (a, b) : (b, a);
        return low.Z == height ? low.Plan : high.Plan + ((high.Z - height) / (high.Z - low.Z) * (low.Plan - high.Plan));
    }
}
