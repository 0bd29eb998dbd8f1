using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Inset;

/// <summary>The distance of a point from the facets of a mesh, facet by facet.</summary>
internal sealed class Distances(TriangleMesh mesh, Func<Vec3, bool> counts)
{
    private readonly (Vec3 A, Vec3 B, Vec3 C)[] facets =
        [.. mesh.Facets.Where(f => counts(mesh.AreaNormal(f))).Select(f => (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]))];

    public double Of(Vec3 p)
    {
        var least = double.PositiveInfinity;
        foreach (var (a, b, c) in facets)
        {
            if (p.X < Math.Min(a.X, Math.Min(b.X, c.X)) - least || p.X > Math.Max(a.X, Math.Max(b.X, c.X)) + least) continue;
            if (p.Y < Math.Min(a.Y, Math.Min(b.Y, c.Y)) - least || p.Y > Math.Max(a.Y, Math.Max(b.Y, c.Y)) + least) continue;
            least = Math.Min(least, (p - TrianglePoint.Nearest(a, b, c, p)).Length);
        }

        return least;
    }
}
