using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>Facets of a mesh that make one face: joined by edges at which the skin turns gently.</summary>
public static class SmoothPatches
{
    /// <summary>The faces, in the order of their first facets, each ascending.</summary>
    /// <param name="mesh">Closed, facing outward.</param>
    /// <param name="member">Which facets are looked at.</param>
    /// <param name="crease">An edge at which the skin turns by more parts two faces, radians.</param>
    public static ImmutableArray<ImmutableArray<int>> Of(TriangleMesh mesh, Func<int, bool> member, double crease)
    {
        var members = new bool[mesh.Facets.Length];
        for (var f = 0; f < members.Length; f++) members[f] = member(f);
        var normals = mesh.Facets.Select(mesh.AreaNormal).ToArray();
        var (sets, gentle) = (new DisjointSets(members.Length), Math.Cos(crease));
        foreach (var edge in new MeshEdges(mesh.Facets, [.. Enumerable.Range(0, mesh.Vertices.Length)]).Groups())
        {
            if (edge.Count != 2) continue;
            var (f, g) = (edge[0] / 3, edge[1] / 3);
            if (members[f] && members[g] && Vec3.Dot(normals[f], normals[g]) >= gentle * normals[f].Length * normals[g].Length) sets.Join(f, g);
        }

        return [.. Enumerable.Range(0, members.Length).Where(f => members[f]).GroupBy(sets.Find).Select(g => g.ToImmutableArray())];
    }
}
