using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>Points no closer together than a distance, found again by hashing the plan into squares of that side.</summary>
internal sealed class PointCluster(double distance)
{
    private readonly Dictionary<(long, long), List<Vec2>> squares = [];

    /// <summary>Keeps a point, however close others are.</summary>
    public void Add(Vec2 p)
    {
        var key = Square(p);
        if (!squares.TryGetValue(key, out var list)) squares.Add(key, list = []);
        list.Add(p);
    }

    /// <summary>The nearest kept point within the distance; else the point itself, which is then kept.</summary>
    public Vec2 Nearest(Vec2 p)
    {
        var (x, y) = Square(p);
        var (best, least) = (p, distance);
        for (var i = x - 1; i <= x + 1; i++)
            for (var j = y - 1; j <= y + 1; j++)
                foreach (var q in squares.GetValueOrDefault((i, j)) ?? [])
                    if (Vec2.Distance(p, q) < least) (best, least) = (q, Vec2.Distance(p, q));
        if (best == p && least == distance) Add(p);
        return best;
    }

    private (long, long) Square(Vec2 p) => ((long)Math.Floor(p.X / distance), (long)Math.Floor(p.Y / distance));
}
