using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Walls;

/// <summary>Points of a triangle in space.</summary>
internal static class TrianglePoint
{
    /// <summary>The point of a triangle nearest to another: by the region of its plane over corners, sides and inside that holds the foot (Ericson 2005).</summary>
    internal static Vec3 Nearest(Vec3 a, Vec3 b, Vec3 c, Vec3 p)
    {
        var (ab, ac, ap) = (b - a, c - a, p - a);
        var (d1, d2) = (Vec3.Dot(ab, ap), Vec3.Dot(ac, ap));
        if (d1 <= 0 && d2 <= 0) return a;
        var bp = p - b;
        var (d3, d4) = (Vec3.Dot(ab, bp), Vec3.Dot(ac, bp));
        if (d3 >= 0 && d4 <= d3) return b;
        var vc = (d1 * d4) - (d3 * d2);
        if (vc <= 0 && d1 >= 0 && d3 <= 0) return a + (Share(d1, d1 - d3) * ab);
        var cp = p - c;
        var (d5, d6) = (Vec3.Dot(ab, cp), Vec3.Dot(ac, cp));
        if (d6 >= 0 && d5 <= d6) return c;
        var vb = (d5 * d2) - (d1 * d6);
        if (vb <= 0 && d2 >= 0 && d6 <= 0) return a + (Share(d2, d2 - d6) * ac);
        var va = (d3 * d6) - (d5 * d4);
        if (va <= 0 && d4 >= d3 && d5 >= d6) return b + (Share(d4 - d3, d4 - d3 + d5 - d6) * (c - b));
        var whole = va + vb + vc;
        return a + (vb / whole * ab) + (vc / whole * ac);

        // A side without length has no share.
        static double Share(double part, double of) => of > 0 ? part / of : 0;
    }

    /// <summary>How far along a line its crossing with a triangle lies; null where it passes by. A hair more than the triangle counts, so that no line slips between two.</summary>
    /// <remarks>Möller and Trumbore 1997.</remarks>
    internal static double? Crossing(Vec3 a, Vec3 b, Vec3 c, Vec3 from, Vec3 along)
    {
        const double hair = 1e-9;
        var (ab, ac) = (b - a, c - a);
        var across = Vec3.Cross(along, ac);
        var det = Vec3.Dot(ab, across);
        if (det == 0) return null;
        var to = from - a;
        var u = Vec3.Dot(to, across) / det;
        if (!(u >= -hair && u <= 1 + hair)) return null;
        var turned = Vec3.Cross(to, ab);
        var v = Vec3.Dot(along, turned) / det;
        return v >= -hair && u + v <= 1 + hair ? Vec3.Dot(ac, turned) / det : null;
    }
}
