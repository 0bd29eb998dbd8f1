using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>Three vertex numbers, counter-clockwise seen from outside the body.</summary>
public readonly record struct Facet(int A, int B, int C);

/// <summary>
/// An indexed triangle mesh. Nothing is promised about its validity: the mesh inspection tells.
/// Immutable; millimetres.
/// </summary>
public sealed class TriangleMesh
{
    /// <summary>Takes the vertices and facets as they are.</summary>
    /// <exception cref="ArgumentException">A facet names a vertex that is not there.</exception>
    public TriangleMesh(ImmutableArray<Vec3> vertices, ImmutableArray<Facet> facets)
    {
        foreach (var f in facets)
            if ((uint)f.A >= (uint)vertices.Length || (uint)f.B >= (uint)vertices.Length || (uint)f.C >= (uint)vertices.Length)
                throw new ArgumentException("A facet names a vertex that is not there.", nameof(facets));
        Vertices = vertices;
        Facets = facets;
    }

    /// <summary>Vertex positions.</summary>
    public ImmutableArray<Vec3> Vertices { get; }

    /// <summary>Facets by vertex number.</summary>
    public ImmutableArray<Facet> Facets { get; }

    /// <summary>Signed volume by the divergence theorem, mm³; positive for a closed mesh facing outward.</summary>
    public double Volume()
    {
        if (Vertices.IsEmpty) return 0;
        var o = Vertices[0];
        double six = 0;
        foreach (var f in Facets)
            six += Vec3.Dot(Vertices[f.A] - o, Vec3.Cross(Vertices[f.B] - o, Vertices[f.C] - o));
        return six / 6;
    }

    /// <summary>The smallest box around all vertices.</summary>
    public Box3 Bounds()
    {
        var box = Box3.Empty;
        foreach (var v in Vertices) box = box.With(v);
        return box;
    }

    /// <summary>The normal of a facet with length twice its area.</summary>
    public Vec3 AreaNormal(Facet f) => Vec3.Cross(Vertices[f.B] - Vertices[f.A], Vertices[f.C] - Vertices[f.A]);

    /// <summary>The mesh with every vertex mapped by a rigid motion (or any map that keeps handedness).</summary>
    public TriangleMesh Mapped(Func<Vec3, Vec3> map) => new([.. Vertices.Select(map)], Facets);

    /// <summary>The mesh with every vertex mapped by a reflection (or any map that changes handedness); facets are turned, so that they face outward still.</summary>
    public TriangleMesh MirroredBy(Func<Vec3, Vec3> map) => new([.. Vertices.Select(map)], [.. Facets.Select(f => new Facet(f.A, f.C, f.B))]);
}
