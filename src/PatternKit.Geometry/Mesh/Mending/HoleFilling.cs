using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>
/// Fills holes without new vertices. A plane hole is cut by ears, a bent one by the filling with the gentlest folds; where that would cross
/// the mesh, the other way is tried, and where both would, the hole stays. Crossings are told by exact signs.
/// </summary>
internal sealed class HoleFilling
{
    private const int MostPairs = 50_000_000;

    // Cutting ears takes the square of the corners.
    private const int MostPlaneCorners = 4096;

    private readonly TriangleMesh _mesh;
    private readonly HashSet<(int, int)> _edges = [];

    private HoleFilling(TriangleMesh mesh, MeshEdges edges)
    {
        _mesh = mesh;
        foreach (var group in edges.Groups()) _edges.Add(Key(edges.Start(group[0]), edges.End(group[0])));
    }

    /// <summary>The mesh with fillings after its facets, how many holes were filled, and those that were not.</summary>
    /// <param name="mesh">A mesh without facets that have no area, all facets of a patch running the same way.</param>
    /// <param name="limits">What is too large.</param>
    /// <param name="tolerance_mm">A hole whose corners are no farther from a plane is a plane one.</param>
    public static (TriangleMesh Mesh, int Filled, ImmutableArray<OpenHole> Left) Fill(TriangleMesh mesh, MendingLimits limits, double tolerance_mm)
    {
        var edges = new MeshEdges(mesh.Facets, CornerWeld.Own(mesh.Vertices.Length));
        var (loops, stuck) = BorderLoops.Find(mesh, edges);
        var left = stuck.Select(chain => Hole(mesh, chain, HoleLeft.NoLoop)).ToList();
        if (loops.Count == 0) return (mesh, 0, [.. left]);

        var longest = limits.HoleShareOfDiagonal * mesh.Bounds().Size.Length;
        var filling = new HoleFilling(mesh, edges);
        var waiting = new List<(BorderLoop Loop, bool IsPlane)>();
        foreach (var loop in loops)
        {
            var plane = IsPlane(mesh, loop, tolerance_mm);
            var hole = Hole(mesh, loop.Corners, HoleLeft.TooLarge);
            var small = plane ? hole.Edges <= MostPlaneCorners : hole.Edges <= limits.MostHoleEdges && hole.Length_mm <= longest;
            if (small || hole.Edges == 3) waiting.Add((loop, plane));
            else left.Add(hole);
        }

        var added = new List<Facet>();
        var filled = 0;
        foreach (var byEars in (ReadOnlySpan<bool>)[true, false])
        {
            // Plane ones by ears first, bent ones by folds first; then the other way round.
            var tried = waiting.Select(w => filling.Cut(w.Loop, w.IsPlane == byEars)).ToList();
            var crossing = filling.Crossing(added, tried);
            var still = new List<(BorderLoop, bool)>();
            for (var i = 0; i < waiting.Count; i++)
            {
                if (tried[i] is { } facets && !crossing.Contains(i))
                {
                    added.AddRange(facets);
                    filled++;
                    continue;
                }

                if (tried[i] is { } refused) filling.Forget(waiting[i].Loop, refused);
                still.Add(waiting[i]);
            }

            waiting = still;
            if (waiting.Count == 0) break;
        }

        left.AddRange(waiting.Select(w => Hole(mesh, w.Loop.Corners, HoleLeft.NoCleanFilling)));
        return added.Count == 0 ? (mesh, 0, [.. left]) : (new(mesh.Vertices, mesh.Facets.AddRange(added)), filled, [.. left]);
    }

    private static OpenHole Hole(TriangleMesh mesh, ImmutableArray<int> corners, HoleLeft why)
    {
        var (sum, length) = (default(Vec3), 0.0);
        var closed = why == HoleLeft.NoLoop ? corners.Length - 1 : corners.Length;
        for (var i = 0; i < corners.Length; i++)
        {
            sum += mesh.Vertices[corners[i]];
            if (i < closed) length += (mesh.Vertices[corners[(i + 1) % corners.Length]] - mesh.Vertices[corners[i]]).Length;
        }

        return new((1.0 / corners.Length) * sum, closed, length, why);
    }

    private static bool IsPlane(TriangleMesh mesh, BorderLoop loop, double tolerance_mm)
    {
        var corners = loop.Corners.Select(v => mesh.Vertices[v]).ToArray();
        var normal = SpacePolygon.MeanNormal(corners);
        var length = normal.Length;
        return length > 0 && Array.TrueForAll(corners, c => Math.Abs(Vec3.Dot(normal, c - corners[0])) <= tolerance_mm * length);
    }

    // The facets of a filling; null where there is none, or where it would use an edge or a facet that is there already.
    private List<Facet>? Cut(BorderLoop loop, bool byEars)
    {
        var corners = loop.Corners.Select(v => _mesh.Vertices[v]).ToArray();
        var n = corners.Length;
        List<Facet>? cut = null;
        if (byEars)
        {
            var ears = SpacePolygon.Triangulate(corners);
            if (ears.IsClean) cut = [.. ears.Facets];
        }
        else if (n <= LoopTriangulation.MostCorners)
        {
            var outside = loop.Facets.Select(f => _mesh.AreaNormal(_mesh.Facets[f])).ToArray();
            cut = LoopTriangulation.Fill(corners, outside, (i, k) => _edges.Contains(Key(loop.Corners[i], loop.Corners[k])));
        }

        if (cut is null) return null;
        var facets = new List<Facet>(cut.Count);
        foreach (var t in cut)
        {
            var facet = new Facet(loop.Corners[t.A], loop.Corners[t.B], loop.Corners[t.C]);
            if (FacetSieve.HasNoArea(_mesh, facet) || LiesOnAnother(t) || Cuts(t).Any(_edges.Contains)) return null;
            facets.Add(facet);
        }

        foreach (var t in cut) _edges.UnionWith(Cuts(t));
        return facets;

        // Two open edges of one facet: the new one would be its back.
        bool LiesOnAnother(Facet t)
        {
            var along = new[] { (t.A, t.B), (t.B, t.C), (t.C, t.A) }.Where(e => e.Item2 == (e.Item1 + 1) % n).Select(e => loop.Facets[e.Item1]).ToArray();
            return along.Distinct().Count() < along.Length;
        }

        IEnumerable<(int, int)> Cuts(Facet t) => new[] { (t.A, t.B), (t.B, t.C), (t.C, t.A) }
            .Where(e => e.Item2 != (e.Item1 + 1) % n && e.Item1 != (e.Item2 + 1) % n)
            .Select(e => Key(loop.Corners[e.Item1], loop.Corners[e.Item2]));
    }

    // Gives back the edges of a filling that was refused.
    private void Forget(BorderLoop loop, List<Facet> facets)
    {
        var n = loop.Corners.Length;
        var border = Enumerable.Range(0, n).Select(i => Key(loop.Corners[i], loop.Corners[(i + 1) % n])).ToHashSet();
        foreach (var f in facets)
            foreach (var edge in (ReadOnlySpan<(int, int)>)[Key(f.A, f.B), Key(f.B, f.C), Key(f.C, f.A)])
                if (!border.Contains(edge)) _edges.Remove(edge);
    }

    // The fillings, by number, that meet the mesh, an earlier filling, or themselves other than in common corners and sides.
    private HashSet<int> Crossing(List<Facet> added, List<List<Facet>?> tried)
    {
        var facets = new List<Facet>();
        var owner = new List<int>();
        var region = Box3.Empty;
        for (var i = 0; i < tried.Count; i++)
            foreach (var f in tried[i] ?? [])
            {
                facets.Add(f);
                owner.Add(i);
                foreach (var v in (ReadOnlySpan<int>)[f.A, f.B, f.C]) region = region.With(_mesh.Vertices[v]);
            }

        var fresh = facets.Count;
        if (fresh == 0) return [];
        facets.AddRange(_mesh.Facets.Concat(added).Where(f => Meets(region, BoxOf(f))));
        var boxes = facets.Select(BoxOf).ToArray();
        var crossing = new HashSet<int>();
        var pairs = 0;
        new FacetTree(boxes, CornerWeld.Own(boxes.Length)).MeetingPairs((f, g) =>
        {
            if (f < fresh && FacetCrossing.Cross(CornersOf(facets[f]), CornersOf(facets[g]))) crossing.Add(g < fresh ? Math.Max(owner[f], owner[g]) : owner[f]);
            return ++pairs < MostPairs;
        });
        return pairs < MostPairs ? crossing : [.. Enumerable.Range(0, tried.Count)];
    }

    private Box3 BoxOf(Facet f) => Box3.Empty.With(_mesh.Vertices[f.A]).With(_mesh.Vertices[f.B]).With(_mesh.Vertices[f.C]);

    private Corners CornersOf(Facet f) => new(_mesh.Vertices[f.A], _mesh.Vertices[f.B], _mesh.Vertices[f.C], f.A, f.B, f.C);

    private static bool Meets(Box3 a, Box3 b) =>
        a.Low.X <= b.High.X && b.Low.X <= a.High.X && a.Low.Y <= b.High.Y && b.Low.Y <= a.High.Y && a.Low.Z <= b.High.Z && b.Low.Z <= a.High.Z;

    private static (int, int) Key(int a, int b) => (Math.Min(a, b), Math.Max(a, b));
}
