using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>How an edge of a mesh is drawn.</summary>
internal enum EdgeKind
{
    /// <summary>Two facets meet at more than the crease angle, or a facet is alone.</summary>
    Crease,

    /// <summary>One facet faces the viewer, the other does not.</summary>
    Silhouette,
}

/// <summary>A mesh with what drawings from any side need of it.</summary>
/// <param name="Mesh">A mesh with shared vertices.</param>
/// <param name="Normals">Unit normal of every facet; NaN for one without area.</param>
/// <param name="Edges">The edges by vertex number, with the facets at them, in order of the facets; then those of an open rim, whose other facet is −1.</param>
internal sealed record EdgedMesh(TriangleMesh Mesh, Vec3[] Normals, IReadOnlyList<(int A, int B, int Facet, int Other)> Edges)
{
    /// <summary>Looks for them.</summary>
    public static EdgedMesh Of(TriangleMesh mesh) => Of(mesh, [.. mesh.Facets.Select(mesh.AreaNormal).Select(n => (1 / n.Length) * n)]);

    /// <summary>Looks for the edges, the normals being known.</summary>
    public static EdgedMesh Of(TriangleMesh mesh, Vec3[] normals)
    {
        var open = new Dictionary<(int, int), int>(mesh.Facets.Length * 3 / 2);
        var edges = new List<(int, int, int, int)>(mesh.Facets.Length * 3 / 2);
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var facet = mesh.Facets[f];
            Meet(facet.A, facet.B, f);
            Meet(facet.B, facet.C, f);
            Meet(facet.C, facet.A, f);
        }

        // What met no partner.
        foreach (var ((a, b), f) in open.OrderBy(e => e.Key)) edges.Add((a, b, f, -1));
        return new(mesh, normals, edges);

        void Meet(int a, int b, int f)
        {
            var key = a < b ? (a, b) : (b, a);
            if (open.Remove(key, out var other)) edges.Add((a, b, f, other));
            else open.Add(key, f);
        }
    }
}

/// <summary>Finds the edges of a mesh that a drawing shows.</summary>
internal static class FeatureEdges
{
    private static readonly double CreaseCosine = Math.Cos(30 * Math.PI / 180);

    /// <summary>Edges that hang together with no others, each of them beside a facet that is thinner than this, a few tolerances of meshing, and that come to less than this share of the mesh's diagonal, are none.</summary>
    private const double Thin_mm = 0.1;
    private const double ShortOverDiagonal = 0.06;

    /// <summary>The edges by vertex number, in the order of the mesh; without the dashes that thin facets in a smooth face would leave, since their normals say little.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="toward">Direction toward the viewer.</param>
    public static IEnumerable<(int A, int B, EdgeKind Kind)> Find(EdgedMesh mesh, Vec3 toward)
    {
        (int A, int B, EdgeKind Kind, bool IsThin)[] found = [.. All(mesh, toward)];
        var next = found.SelectMany((e, i) => new[] { (V: e.A, Edge: i), (V: e.B, Edge: i) }).ToLookup(e => e.V, e => e.Edge);
        var shortest = ShortOverDiagonal * mesh.Mesh.Bounds().Size.Length;
        var (seen, isDash) = (new bool[found.Length], new bool[found.Length]);
        for (var i = 0; i < found.Length; i++)
        {
            if (seen[i]) continue;
            seen[i] = true;
            var together = new List<int> { i };
            for (var k = 0; k < together.Count; k++)
            {
                foreach (var other in next[found[together[k]].A].Concat(next[found[together[k]].B]))
                {
                    if (seen[other]) continue;
                    seen[other] = true;
                    together.Add(other);
                }
            }

            if (together.Any(e => !found[e].IsThin) || together.Sum(e => (mesh.Mesh.Vertices[found[e].B] - mesh.Mesh.Vertices[found[e].A]).Length) >= shortest) continue;
            foreach (var e in together) isDash[e] = true;
        }

        return found.Where((_, i) => !isDash[i]).Select(e => (e.A, e.B, e.Kind));
    }

    private static IEnumerable<(int A, int B, EdgeKind Kind, bool IsThin)> All(EdgedMesh mesh, Vec3 toward)
    {
        foreach (var (a, b, f, other) in mesh.Edges)
        {
            if (other < 0)
            {
                yield return (a, b, EdgeKind.Crease, false);
                continue;
            }

            var faces = Vec3.Dot(mesh.Normals[f], toward) > 0;
            if (faces != Vec3.Dot(mesh.Normals[other], toward) > 0) yield return (a, b, EdgeKind.Silhouette, IsThin(mesh.Mesh, f) || IsThin(mesh.Mesh, other));
            else if (faces && Vec3.Dot(mesh.Normals[f], mesh.Normals[other]) < CreaseCosine) yield return (a, b, EdgeKind.Crease, IsThin(mesh.Mesh, f) || IsThin(mesh.Mesh, other));
        }
    }

    private static bool IsThin(TriangleMesh mesh, int facet)
    {
        var f = mesh.Facets[facet];
        var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
        return mesh.AreaNormal(f).Length < Thin_mm * Math.Max((b - a).Length, Math.Max((c - b).Length, (a - c).Length));
    }
}
