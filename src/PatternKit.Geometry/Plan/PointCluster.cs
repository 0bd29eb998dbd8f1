using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>Points no closer together than a distance, found again by hashing the plan into squares several times as wide.</summary>
internal sealed class PointCluster(double distance)
{
    private readonly double side = 8 * distance;
    private readonly Dictionary<long, List<Vec2>> squares = [];

    /// <summary>Keeps a point, however close others are.</summary>
    public void Add(Vec2 p)
    {
        var key = Key(Square(p.X), Square(p.Y));
        if (!squares.TryGetValue(key, out var list)) squares.Add(key, list = []);
        list.Add(p);
    }

    /// <summary>The nearest kept point within the distance; else the point itself, which is then kept.</summary>
    public Vec2 Nearest(Vec2 p)
    {
        var (best, least, found) = (p, distance, false);
        for (var i = Square(p.X - distance); i <= Square(p.X + distance); i++)
        {
            for (var j = Square(p.Y - distance); j <= Square(p.Y + distance); j++)
            {
                if (!squares.TryGetValue(Key(i, j), out var list)) continue;
                foreach (var q in list)
                    if (Vec2.Distance(p, q) < least) (best, least, found) = (q, Vec2.Distance(p, q), true);
            }
        }

        if (!found) Add(p);
        return best;
    }

    private int Square(double x) => (int)Math.Floor(x / side);

    private static long Key(int x, int y) => ((long)x << 32) | (uint)y;
}
