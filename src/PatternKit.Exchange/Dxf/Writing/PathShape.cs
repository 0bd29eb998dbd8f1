using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>What a path is in the terms of the format.</summary>
internal static class PathShape
{
    // A flatter arc is written by its bulge: angles about a far centre have not the digits to carry its ends.
    private const double FarCentre = 1000;

    /// <summary>Whether the path is one straight piece.</summary>
    public static bool IsLine(PlanPath path) => path is { IsClosed: false, SegmentCount: 1 } && path.Vertices[0].Bulge == 0;

    /// <summary>Whether the path is one arc that centre and angles describe well.</summary>
    public static bool IsArc(PlanPath path)
    {
        if (path.IsClosed || path.SegmentCount != 1 || !path.Segment(0).IsArc) return false;
        var arc = path.Segment(0);
        var chord = Vec2.Distance(arc.Start, arc.End);
        return arc.Radius < FarCentre * chord && Math.Abs(arc.Bulge) < 10;
    }

    /// <summary>Centre and radius when the path is one full turn about a centre.</summary>
    public static (Vec2 Centre, double Radius)? Circle(PlanPath path)
    {
        if (!path.IsClosed) return null;
        var (first, turn) = (path.Segment(0), 0.0);
        for (var i = 0; i < path.SegmentCount; i++)
        {
            var s = path.Segment(i);
            if (!s.IsArc || s.Start == s.End) return null;
            if (Vec2.Distance(s.Centre, first.Centre) > 1e-12 * (first.Radius + first.Centre.Length) || Math.Abs(s.Radius - first.Radius) > 1e-12 * first.Radius) return null;
            turn += s.Sweep;
        }

        return Math.Abs(Math.Abs(turn) - (2 * Math.PI)) < 1e-9 ? (first.Centre, first.Radius) : null;
    }

    /// <summary>Smallest upright box of the path, arcs included.</summary>
    public static (Vec2 Low, Vec2 High) Box(PlanPath path)
    {
        var (low, high) = (path.Vertices[0].Point, path.Vertices[0].Point);
        foreach (var v in path.Vertices) Take(v.Point);
        for (var i = 0; i < path.SegmentCount; i++)
        {
            var s = path.Segment(i);
            if (!s.IsArc || s.Start == s.End) continue;
            var (c, r) = (s.Centre, s.Radius);
            foreach (var tip in (ReadOnlySpan<Vec2>)[new(1, 0), new(0, 1), new(-1, 0), new(0, -1)])
            {
                // A tip of the circle belongs to the arc when it lies on its side of the chord.
                if (Vec2.Cross(s.End - s.Start, c + (r * tip) - s.Start) * s.Bulge < 0) Take(c + (r * tip));
            }
        }

        return (low, high);

        void Take(Vec2 p)
        {
            low = new(Math.Min(low.X, p.X), Math.Min(low.Y, p.Y));
            high = new(Math.Max(high.X, p.X), Math.Max(high.Y, p.Y));
        }
    }
}
