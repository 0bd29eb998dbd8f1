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

/// <summary>Finds the edges of a mesh that a drawing shows.</summary>
internal static class FeatureEdges
{
    private static readonly double CreaseCosine = Math.Cos(30 * Math.PI / 180);

    /// <summary>The edges by vertex number, in order of the facets.</summary>
    /// <param name="mesh">A mesh with shared vertices.</param>
    /// <param name="normals">Unit normal of every facet; NaN for one without area.</param>
    /// <param name="toward">Direction toward the viewer.</param>
    public static List<(int A, int B, EdgeKind Kind)> Find(TriangleMesh mesh, Vec3[] normals, Vec3 toward)
    {
        var open = new Dictionary<(int, int), int>(mesh.Facets.Length * 3 / 2);
        var edges = new List<(int, int, EdgeKind)>();
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var facet = mesh.Facets[f];
            Meet(facet.A, facet.B, f);
            Meet(facet.B, facet.C, f);
            Meet(facet.C, facet.A, f);
        }

        // What met no partner: an open rim.
        foreach (var ((a, b), _) in open.OrderBy(e => e.Key)) edges.Add((a, b, EdgeKind.Crease));
        return edges;

        void Meet(int a, int b, int f)
        {
            var key = a < b ? (a, b) : (b, a);
            if (!open.Remove(key, out var other))
            {
                open.Add(key, f);
                return;
            }

            var faces = Vec3.Dot(normals[f], toward) > 0;
            var otherFaces = Vec3.Dot(normals[other], toward) > 0;
            if (faces != otherFaces) edges.Add((a, b, EdgeKind.Silhouette));
            else if (faces && Vec3.Dot(normals[f], normals[other]) < CreaseCosine) edges.Add((a, b, EdgeKind.Crease));
        }
    }
}
