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
/// <param name="Faces">Unit normal of the face that a facet is of: its own, or that of a facet beside it where it is too thin to have one.</param>
/// <param name="Edges">The edges by vertex number, with the facets at them, in order of the facets; then those of an open rim, whose other facet is −1.</param>
internal sealed record EdgedMesh(TriangleMesh Mesh, Vec3[] Normals, Vec3[] Faces, IReadOnlyList<(int A, int B, int Facet, int Other)> Edges)
{
    /// <summary>The normal of a facet that is thinner than this, a few tolerances of meshing, says nothing.</summary>
    private const double Thin_mm = 0.1;

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
        return new(mesh, normals, OfFaces(mesh, normals, edges), edges);

        void Meet(int a, int b, int f)
        {
            var key = a < b ? (a, b) : (b, a);
            if (open.Remove(key, out var other)) edges.Add((a, b, f, other));
            else open.Add(key, f);
        }
    }

    /// <summary>Thin facets that lie otherwise than one beside them take the normal of what they hang on, from all others on, the most alike first; those that hang on none keep their own.</summary>
    private static Vec3[] OfFaces(TriangleMesh mesh, Vec3[] normals, List<(int A, int B, int Facet, int Other)> edges)
    {
        var isOpen = new bool[normals.Length];
        foreach (var (_, _, f, other) in edges)
        {
            if (other < 0 || Vec3.Dot(normals[f], normals[other]) >= FeatureEdges.CreaseCosine) continue;
            foreach (var side in new[] { f, other }) isOpen[side] = isOpen[side] || IsThin(mesh, mesh.Facets[side]);
        }

        if (!Array.Exists(isOpen, open => open)) return normals;
        var faces = normals.ToArray();
        var beside = edges.Where(e => e.Other >= 0 && (isOpen[e.Facet] || isOpen[e.Other])).SelectMany(e => new[] { (From: e.Facet, To: e.Other), (From: e.Other, To: e.Facet) }).ToLookup(e => e.From, e => e.To);
        var next = new PriorityQueue<(int From, int To), (double Unlike, int From, int To)>();
        foreach (var from in beside.Select(e => e.Key).Where(f => !isOpen[f]).ToArray()) Reach(from);
        while (next.TryDequeue(out var step, out _))
        {
            if (!isOpen[step.To]) continue;
            (isOpen[step.To], faces[step.To]) = (false, faces[step.From]);
            Reach(step.To);
        }

        return faces;

        void Reach(int from)
        {
            // One without area is unlike all.
            foreach (var to in beside[from])
                if (isOpen[to]) next.Enqueue((from, to), (Vec3.Dot(faces[from], normals[to]) is var alike && double.IsNaN(alike) ? 1 : -alike, from, to));
        }
    }

    private static bool IsThin(TriangleMesh mesh, Facet f)
    {
        var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
        return mesh.AreaNormal(f).Length < Thin_mm * Math.Max((b - a).Length, Math.Max((c - b).Length, (a - c).Length));
    }
}

/// <summary>Finds the edges of a mesh that a drawing shows.</summary>
internal static class FeatureEdges
{
    internal static readonly double CreaseCosine = Math.Cos(30 * Math.PI / 180);

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

            var faces = Vec3.Dot(mesh.Faces[f], toward) > 0;
            if (faces != Vec3.Dot(mesh.Faces[other], toward) > 0) yield return (a, b, EdgeKind.Silhouette);
            else if (faces && Vec3.Dot(mesh.Faces[f], mesh.Faces[other]) < CreaseCosine) yield return (a, b, EdgeKind.Crease);
        }
    }
}
