using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>Indexed meshes from loose triangles.</summary>
public static class MeshBuilder
{
    /// <summary>
    /// Joins corners at exactly equal positions (0 and −0 are equal). Vertices come in the order in which they first
    /// appear, facets in the order given, also those that name a vertex twice.
    /// </summary>
    public static TriangleMesh Weld(IEnumerable<(Vec3 A, Vec3 B, Vec3 C)> triangles)
    {
        var number = new Dictionary<Vec3, int>();
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        foreach (var (a, b, c) in triangles) facets.Add(new(Number(a), Number(b), Number(c)));
        return new(vertices.ToImmutable(), facets.ToImmutable());

        int Number(Vec3 p)
        {
            if (number.TryGetValue(p, out var n)) return n;
            number.Add(p, n = vertices.Count);
            vertices.Add(p);
            return n;
        }
    }

    /// <summary>
    /// Gives each fan of facets at a pinched vertex its own copy of that vertex, so that the mesh is vertex-manifold.
    /// A weld joins what touches in a point; this parts it again. Positions and facet order stay.
    /// </summary>
    public static TriangleMesh SeparatePinches(TriangleMesh mesh)
    {
        var own = new int[mesh.Vertices.Length];
        for (var v = 0; v < own.Length; v++) own[v] = v;
        var edges = new MeshEdges(mesh.Facets, own);
        var fans = edges.Fans();
        var numberOfFan = new Dictionary<int, int>();
        var owned = new bool[mesh.Vertices.Length];
        var vertices = mesh.Vertices.ToBuilder();
        var facets = ImmutableArray.CreateBuilder<Facet>(mesh.Facets.Length);
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var facet = mesh.Facets[f];
            facets.Add(facet.A == facet.B || facet.B == facet.C || facet.C == facet.A
                ? facet
                : new(Number(3 * f, facet.A), Number((3 * f) + 1, facet.B), Number((3 * f) + 2, facet.C)));
        }

        return new(vertices.ToImmutable(), facets.MoveToImmutable());

        int Number(int corner, int v)
        {
            var fan = fans.Find(corner);
            if (numberOfFan.TryGetValue(fan, out var n)) return n;
            if (owned[v])
            {
                n = vertices.Count;
                vertices.Add(mesh.Vertices[v]);
            }
            else
            {
                n = v;
                owned[v] = true;
            }

            numberOfFan.Add(fan, n);
            return n;
        }
    }
}
