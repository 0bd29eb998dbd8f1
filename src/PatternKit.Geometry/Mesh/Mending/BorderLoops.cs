using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>A closed way along open edges.</summary>
/// <param name="Corners">Vertices in the direction in which facets that fill the hole run.</param>
/// <param name="Facets">For each corner the facet at the open edge that leaves it.</param>
internal sealed record BorderLoop(ImmutableArray<int> Corners, ImmutableArray<int> Facets);

/// <summary>
/// The borders of a mesh as loops that visit no vertex twice. Where several holes meet in a vertex, the way goes on along the same
/// gap: the open edge that comes next when turning about the surface normal there.
/// </summary>
internal sealed class BorderLoops
{
    private readonly TriangleMesh _mesh;
    private readonly SortedDictionary<int, List<(int To, int Facet)>> _leaving = [];
    private readonly Dictionary<int, Vec3> _normals = [];
    private readonly List<BorderLoop> _loops = [];
    private readonly List<ImmutableArray<int>> _stuck = [];

    private BorderLoops(TriangleMesh mesh) => _mesh = mesh;

    /// <summary>Loops, and the vertices along open edges that do not close to one.</summary>
    public static (IReadOnlyList<BorderLoop> Loops, IReadOnlyList<ImmutableArray<int>> Stuck) Find(TriangleMesh mesh, MeshEdges edges)
    {
        var borders = new BorderLoops(mesh);
        foreach (var side in edges.Groups().Where(g => g.Count == 1).Select(g => g[0]).Order())
        {
            var (from, to) = (edges.End(side), edges.Start(side));
            if (!borders._leaving.TryGetValue(from, out var list)) borders._leaving.Add(from, list = []);
            list.Add((to, side / 3));
        }

        borders.MeasureNormals();
        foreach (var (from, list) in borders._leaving)
            while (list.Count > 0) borders.Walk(from);
        return (borders._loops, borders._stuck);
    }

    private void Walk(int start)
    {
        var path = new List<(int Vertex, int Facet)>();
        var place = new Dictionary<int, int>();
        var at = start;
        while (true)
        {
            if (place.TryGetValue(at, out var since))
            {
                // The way came back to itself: what lies between is a loop, and the rest goes on from here.
                var loop = path[since..];
                _loops.Add(new([.. loop.Select(p => p.Vertex)], [.. loop.Select(p => p.Facet)]));
                foreach (var (vertex, _) in loop) place.Remove(vertex);
                path.RemoveRange(since, path.Count - since);
                if (path.Count == 0) return;
            }

            if (!_leaving.TryGetValue(at, out var list) || list.Count == 0)
            {
                _stuck.Add([.. path.Select(p => p.Vertex), at]);
                return;
            }

            var next = list.Count == 1 || path.Count == 0 ? 0 : Nearest(path[^1].Vertex, at, list);
            place[at] = path.Count;
            path.Add((at, list[next].Facet));
            at = list[next].To;
            list.RemoveAt(next);
        }
    }

    // The gap lies to the left of its border, so between the edge that leaves and, counter-clockwise from it, the edge that arrived.
    private int Nearest(int from, int at, List<(int To, int Facet)> list)
    {
        var (o, normal) = (_mesh.Vertices[at], _normals[at]);
        var back = _mesh.Vertices[from] - o;
        var (best, least) = (0, double.PositiveInfinity);
        for (var i = 0; i < list.Count; i++)
        {
            var ahead = _mesh.Vertices[list[i].To] - o;
            var (sin, cos) = (Vec3.Dot(normal, Vec3.Cross(ahead, back)), Vec3.Dot(ahead, back) * normal.Length - (Vec3.Dot(ahead, normal) * Vec3.Dot(back, normal) / Math.Max(normal.Length, double.Epsilon)));
            var angle = Math.Atan2(sin, cos);
            if (angle <= 0) angle += 2 * Math.PI;
            if (angle < least) (best, least) = (i, angle);
        }

        return best;
    }

    private void MeasureNormals()
    {
        foreach (var (vertex, list) in _leaving)
            if (list.Count > 1) _normals.Add(vertex, default);
        if (_normals.Count == 0) return;
        foreach (var f in _mesh.Facets)
        {
            var normal = _mesh.AreaNormal(f);
            foreach (var v in (ReadOnlySpan<int>)[f.A, f.B, f.C])
                if (_normals.TryGetValue(v, out var sum)) _normals[v] = sum + normal;
        }
    }
}
