using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Triangulation;

/// <summary>One polygon on its way to triangles: a ring of the corners that are left, and the ears among them by length of cut.</summary>
internal ref struct EarCutter
{
    // A cut can free a corner elsewhere only where a polygon touches itself; so few looks at all corners are enough.
    private const int MostScans = 16;

    private readonly ReadOnlySpan<Vec3> _corners;
    private readonly Vec2[] _plan;
    private readonly int[] _next;
    private readonly int[] _previous;
    private readonly int[] _stamp;
    private readonly bool[] _blunt;
    private readonly PriorityQueue<(int Corner, int Stamp), (double, int)> _ears = new();
    private readonly ImmutableArray<Facet>.Builder _facets;
    private int _left;

    public EarCutter(ReadOnlySpan<Vec3> corners)
    {
        var n = corners.Length;
        _corners = corners;
        _plan = Projected(corners);
        (_next, _previous, _stamp, _blunt) = (new int[n], new int[n], new int[n], new bool[n]);
        for (var i = 0; i < n; i++) (_next[i], _previous[(i + 1) % n]) = ((i + 1) % n, i);
        for (var i = 0; i < n; i++) _blunt[i] = IsBlunt(i);
        _facets = ImmutableArray.CreateBuilder<Facet>(n - 2);
        _left = n;
    }

    public SpacePolygonTriangles Cut()
    {
        var start = 0;
        var clean = true;
        var scans = 0;
        while (_left > 3)
        {
            if (_ears.Count == 0)
            {
                if (scans++ < MostScans && clean) Offer(start, true);
                if (_ears.Count == 0)
                {
                    clean = false;
                    Offer(start, false);
                }
            }

            var (ear, stamp) = _ears.Dequeue();
            if (stamp != _stamp[ear]) continue;
            var (before, after) = (_previous[ear], _next[ear]);
            _facets.Add(new(before, ear, after));
            (_next[before], _previous[after]) = (after, before);
            _stamp[ear]++;
            _left--;
            start = after;
            Renew(before, clean);
            Renew(after, clean);
        }

        var (a, b) = (_previous[start], _next[start]);
        _facets.Add(new(a, start, b));
        return new(_facets.MoveToImmutable(), clean && !IsBlunt(start));
    }

    // Seen against the normal's largest part, so that the polygon runs counter-clockwise.
    private static Vec2[] Projected(ReadOnlySpan<Vec3> corners)
    {
        var normal = SpacePolygon.MeanNormal(corners);
        var (x, y, z) = (Math.Abs(normal.X), Math.Abs(normal.Y), Math.Abs(normal.Z));
        var plan = new Vec2[corners.Length];
        for (var i = 0; i < plan.Length; i++)
        {
            var c = corners[i];
            plan[i] = z >= x && z >= y ? Facing(c.X, c.Y, normal.Z) : x >= y ? Facing(c.Y, c.Z, normal.X) : Facing(c.Z, c.X, normal.Y);
        }

        return plan;

        static Vec2 Facing(double u, double v, double side) => side >= 0 ? new(u, v) : new(v, u);
    }

    private void Offer(int start, bool onlyEars)
    {
        var i = start;
        do
        {
            Renew(i, onlyEars);
            i = _next[i];
        }
        while (i != start);
    }

    private void Renew(int i, bool onlyEars)
    {
        _stamp[i]++;
        _blunt[i] = IsBlunt(i);
        if (onlyEars && !IsEar(i)) return;
        var cut = (_corners[_next[i]] - _corners[_previous[i]]).Length;
        // Where no ear is left, corners that turn inward or not at all come last.
        _ears.Enqueue((i, _stamp[i]), (_blunt[i] ? double.MaxValue : cut, i));
    }

    private readonly bool IsBlunt(int i) => ExactPredicates.Orient2D(_plan[_previous[i]], _plan[i], _plan[_next[i]]) <= 0;

    // A corner inside or on the triangle forbids the cut; the deepest such corner is a blunt one.
    private readonly bool IsEar(int i)
    {
        if (_blunt[i]) return false;
        var (a, b, c) = (_plan[_previous[i]], _plan[i], _plan[_next[i]]);
        for (var j = _next[_next[i]]; j != _previous[i]; j = _next[j])
        {
            var p = _plan[j];
            if (!_blunt[j] || p == a || p == b || p == c) continue;
            if (ExactPredicates.Orient2D(a, b, p) >= 0 && ExactPredicates.Orient2D(b, c, p) >= 0 && ExactPredicates.Orient2D(c, a, p) >= 0) return false;
        }

        return true;
    }
}
