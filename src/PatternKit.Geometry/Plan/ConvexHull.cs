using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>The convex hull of a few points (monotone chain: Andrew 1979).</summary>
internal static class ConvexHull
{
    /// <summary>Corners counter-clockwise; null where they enclose no area.</summary>
    public static IReadOnlyList<Vec2>? Of(List<Vec2> points)
    {
        points.Sort((p, q) => (p.X, p.Y).CompareTo((q.X, q.Y)));
        var hull = new List<Vec2>(points.Count + 1);
        for (var pass = 0; pass < 2; pass++)
        {
            var start = hull.Count;
            foreach (var p in points)
            {
                while (hull.Count >= start + 2 && Vec2.Cross(hull[^1] - hull[^2], p - hull[^2]) <= 0) hull.RemoveAt(hull.Count - 1);
                hull.Add(p);
            }

            hull.RemoveAt(hull.Count - 1);
            points.Reverse();
        }

        return hull.Count < 3 ? null : hull;
    }
}
