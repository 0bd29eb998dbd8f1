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
        var corners = new List<Vec3>();
        foreach (var (a, b, c) in triangles)
        {
            corners.Add(a);
            corners.Add(b);
            corners.Add(c);
        }

        return Weld(corners.Count, i => corners[i]);
    }

    /// <summary>The same of corners, three to a facet.</summary>
    /// <param name="count">How many corners there are.</param>
    /// <param name="corner">Where a corner is; each is asked for once, in their order.</param>
    public static TriangleMesh Weld(int count, Func<int, Vec3> corner)
    {
        // A closed mesh has half as many vertices as facets, nearly.
        var table = new PositionTable((count / 6) + 2);
        var facets = ImmutableArray.CreateBuilder<Facet>(count / 3);
        for (var i = 0; i + 2 < count; i += 3) facets.Add(new(table.Number(corner(i)), table.Number(corner(i + 1)), table.Number(corner(i + 2))));
        return new(table.Drained(), facets.MoveToImmutable());
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
