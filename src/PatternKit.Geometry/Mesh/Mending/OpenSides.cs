using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>
/// Splits facets whose open side has corners of other open sides on it, as is left where a facet of three corners on one line was dropped, or
/// where two surfaces of different fineness were put together. The surface moves by the tolerance at most.
/// </summary>
internal static class OpenSides
{
    // Meshes in which more boxes meet are hopeless, and would take for ever.
    private const int MostPairs = 50_000_000;

    /// <summary>The mesh with such facets cut in pieces, which take the place of the whole one at the end of the list, and their number.</summary>
    public static (TriangleMesh Mesh, int Split) SplitAtCorners(TriangleMesh mesh, double tolerance_mm)
    {
        var edges = new MeshEdges(mesh.Facets, CornerWeld.Own(mesh.Vertices.Length));
        var sides = edges.Groups().Where(g => g.Count == 1).Select(g => g[0]).Order().ToArray();
        if (sides.Length == 0 || !double.IsFinite(tolerance_mm)) return (mesh, 0);
        var corners = sides.SelectMany(s => new[] { edges.Start(s), edges.End(s) }).Distinct().Order().ToArray();
        var boxes = new Box3[sides.Length + corners.Length];
        var wide = new Vec3(tolerance_mm, tolerance_mm, tolerance_mm);
        for (var i = 0; i < sides.Length; i++)
        {
            var box = Box3.Empty.With(mesh.Vertices[edges.Start(sides[i])]).With(mesh.Vertices[edges.End(sides[i])]);
            boxes[i] = new(box.Low - wide, box.High + wide);
        }

        for (var i = 0; i < corners.Length; i++) boxes[sides.Length + i] = Box3.Empty.With(mesh.Vertices[corners[i]]);
        var on = new SortedDictionary<int, List<(double Along, int Corner)>>();
        var pairs = 0;
        new FacetTree(boxes, CornerWeld.Own(boxes.Length)).MeetingPairs((s, c) =>
        {
            if (s < sides.Length && c >= sides.Length && Along(sides[s], corners[c - sides.Length]) is { } along)
            {
                if (!on.TryGetValue(sides[s], out var list)) on.Add(sides[s], list = []);
                list.Add((along, corners[c - sides.Length]));
            }

            return ++pairs < MostPairs;
        });
        if (on.Count == 0 || pairs >= MostPairs) return (mesh, 0);

        var pieces = new SortedDictionary<int, List<Facet>>();
        foreach (var facet in on.Keys.Select(s => s / 3).Distinct())
            if (Pieces(mesh, facet, on) is { } cut) pieces.Add(facet, cut);
        var kept = mesh.Facets.Where((_, f) => !pieces.ContainsKey(f));
        return (new(mesh.Vertices, [.. kept, .. pieces.Values.SelectMany(p => p)]), pieces.Count);

        // Where along the side the corner is, from 0 to 1; null where it is not on it.
        double? Along(int side, int corner)
        {
            var (a, b, p) = (mesh.Vertices[edges.Start(side)], mesh.Vertices[edges.End(side)], mesh.Vertices[corner]);
            var f = mesh.Facets[side / 3];
            if (corner == f.A || corner == f.B || corner == f.C) return null;
            var length = (b - a).Length;
            var along = Vec3.Dot(p - a, b - a) / (length * length);
            if (!(along > 0 && along < 1) || (p - a).Length <= tolerance_mm || (p - b).Length <= tolerance_mm) return null;
            return (p - (a + (along * (b - a)))).Length <= tolerance_mm ? along : null;
        }
    }

    private static List<Facet>? Pieces(TriangleMesh mesh, int facet, SortedDictionary<int, List<(double Along, int Corner)>> on)
    {
        var f = mesh.Facets[facet];
        var ring = new List<int>();
        foreach (var (corner, side) in (ReadOnlySpan<(int, int)>)[(f.A, 3 * facet), (f.B, (3 * facet) + 1), (f.C, (3 * facet) + 2)])
        {
            ring.Add(corner);
            if (on.TryGetValue(side, out var list)) ring.AddRange(list.Order().Select(p => p.Corner));
        }

        if (ring.Distinct().Count() < ring.Count) return null;
        var cut = SpacePolygon.Triangulate([.. ring.Select(v => mesh.Vertices[v])]);
        var pieces = cut.Facets.Select(t => new Facet(ring[t.A], ring[t.B], ring[t.C])).ToList();
        return cut.IsClean && !pieces.Exists(t => FacetSieve.HasNoArea(mesh, t)) ? pieces : null;
    }
}
