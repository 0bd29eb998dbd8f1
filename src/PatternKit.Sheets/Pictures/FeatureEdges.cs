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

    /// <summary>The edges by vertex number, in the order of the mesh.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="toward">Direction toward the viewer.</param>
    public static IEnumerable<(int A, int B, EdgeKind Kind)> Find(EdgedMesh mesh, Vec3 toward)
    {
        foreach (var (a, b, f, other) in mesh.Edges)
        {
            if (other < 0)
            {
                yield return (a, b, EdgeKind.Crease);
                continue;
            }

            var faces = Vec3.Dot(mesh.Normals[f], toward) > 0;
            if (faces != Vec3.Dot(mesh.Normals[other], toward) > 0) yield return (a, b, EdgeKind.Silhouette);
            else if (faces && Vec3.Dot(mesh.Normals[f], mesh.Normals[other]) < CreaseCosine) yield return (a, b, EdgeKind.Crease);
        }
    }
}
