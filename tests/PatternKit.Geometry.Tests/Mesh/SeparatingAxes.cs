using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>
/// Whether two triangles with small whole coordinates have a common point, by separating axes: two convex sets are
/// apart exactly when some direction among the face normals and the products of edges (and, for flat pairs,
/// in-plane edge normals) tells their projections apart. Whole numbers in doubles, so exact.
/// Gottschalk, Lin and Manocha 1996, Theorem 1, for polytopes that may be flat.
/// </summary>
internal static class SeparatingAxes
{
    public static bool Touch(Vec3[] s, Vec3[] t)
    {
        var (es, et) = (Edges(s), Edges(t));
        var (ns, nt) = (Vec3.Cross(es[0], es[1]), Vec3.Cross(et[0], et[1]));
        var axes = new List<Vec3> { ns, nt };
        foreach (var a in es)
        {
            axes.Add(Vec3.Cross(a, ns));
            axes.AddRange(et.Select(b => Vec3.Cross(a, b)));
        }

        axes.AddRange(et.Select(b => Vec3.Cross(b, nt)));
        return !axes.Exists(axis => Apart(axis, s, t));
    }

    private static Vec3[] Edges(Vec3[] p) => [p[1] - p[0], p[2] - p[1], p[0] - p[2]];

    private static bool Apart(Vec3 axis, Vec3[] s, Vec3[] t)
    {
        var (a, b) = (s.Select(p => Vec3.Dot(axis, p)).ToArray(), t.Select(p => Vec3.Dot(axis, p)).ToArray());
        return a.Max() < b.Min() || b.Max() < a.Min();
    }
}
