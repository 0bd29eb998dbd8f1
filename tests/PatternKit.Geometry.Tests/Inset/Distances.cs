using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Inset;

/// <summary>The distance of a point from the facets of a mesh, facet by facet (closest point of a triangle: Ericson, Real-Time Collision Detection, 2005, 5.1.5).</summary>
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
            least = Math.Min(least, (p - Closest(p, a, b, c)).Length);
        }

        return least;
    }

    private static Vec3 Closest(Vec3 p, Vec3 a, Vec3 b, Vec3 c)
    {
        var (ab, ac, ap) = (b - a, c - a, p - a);
        var (d1, d2) = (Vec3.Dot(ab, ap), Vec3.Dot(ac, ap));
        if (d1 <= 0 && d2 <= 0) return a;
        var bp = p - b;
        var (d3, d4) = (Vec3.Dot(ab, bp), Vec3.Dot(ac, bp));
        if (d3 >= 0 && d4 <= d3) return b;
        var vc = (d1 * d4) - (d3 * d2);
        if (vc <= 0 && d1 >= 0 && d3 <= 0) return a + (d1 / (d1 - d3) * ab);
        var cp = p - c;
        var (d5, d6) = (Vec3.Dot(ab, cp), Vec3.Dot(ac, cp));
        if (d6 >= 0 && d5 <= d6) return c;
        var vb = (d5 * d2) - (d1 * d6);
        if (vb <= 0 && d2 >= 0 && d6 <= 0) return a + (d2 / (d2 - d6) * ac);
        var va = (d3 * d6) - (d5 * d4);
        if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) return b + ((d4 - d3) / (d4 - d3 + (d5 - d6)) * (c - b));
        var sum = va + vb + vc;
        return a + (vb / sum * ab) + (vc / sum * ac);
    }
}
