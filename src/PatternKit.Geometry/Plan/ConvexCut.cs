using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>Cuts of convex polygons.</summary>
internal static class ConvexCut
{
    /// <summary>What of a convex polygon lies where a function that is linear is positive; fewer than three corners where nothing does.</summary>
    public static List<Vec2> Where(List<Vec2> polygon, Func<Vec2, double> value)
    {
        var kept = new List<Vec2>();
        for (var i = 0; i < polygon.Count; i++)
        {
            var (p, q) = (polygon[i], polygon[(i + 1) % polygon.Count]);
            var (atP, atQ) = (value(p), value(q));
            if (atP >= 0) kept.Add(p);
            if ((atP > 0 && atQ < 0) || (atP < 0 && atQ > 0)) kept.Add(p + (atP / (atP - atQ) * (q - p)));
        }

        return kept;
    }

    /// <summary>What of a convex polygon lies in a triangle that turns left.</summary>
    public static List<Vec2> Within(List<Vec2> polygon, Vec2 a, Vec2 b, Vec2 c) =>
        Where(Where(Where(polygon, p => Vec2.Cross(b - a, p - a)), p => Vec2.Cross(c - b, p - b)), p => Vec2.Cross(a - c, p - c));
}
