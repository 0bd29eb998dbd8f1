using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>Meshes and facets that look up, put together: what drafted terrains are made of.</summary>
internal sealed class GroundSoup
{
    private readonly ImmutableArray<Vec3>.Builder corners = ImmutableArray.CreateBuilder<Vec3>();
    private readonly ImmutableArray<Facet>.Builder facets = ImmutableArray.CreateBuilder<Facet>();

    /// <summary>All facets of a mesh.</summary>
    public void Add(TriangleMesh mesh)
    {
        var first = corners.Count;
        corners.AddRange(mesh.Vertices);
        facets.AddRange(mesh.Facets.Select(f => new Facet(first + f.A, first + f.B, first + f.C)));
    }

    /// <summary>A plane piece with four corners, turned so that it looks up; an upright one is none.</summary>
    public void Add(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
    {
        Add(a, b, c);
        Add(a, c, d);
    }

    /// <summary>All of them.</summary>
    public TriangleMesh Mesh() => new(corners.ToImmutable(), facets.ToImmutable());

    private void Add(Vec3 a, Vec3 b, Vec3 c)
    {
        var up = Vec2.Cross(b.Plan - a.Plan, c.Plan - a.Plan);
        if (up == 0) return;
        var first = corners.Count;
        corners.AddRange(a, up > 0 ? b : c, up > 0 ? c : b);
        facets.Add(new(first, first + 1, first + 2));
    }
}
