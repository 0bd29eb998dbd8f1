using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Cli.Output;

/// <summary>Width and height of curves over all.</summary>
internal static class DrawingSize
{
    /// <summary>The size, arcs true, in the unit of the curves; there is at least one curve.</summary>
    public static Vec2 Of(IEnumerable<PlanPath> paths)
    {
        var points = paths.SelectMany(p => Enumerable.Range(0, p.SegmentCount).SelectMany(i => Extremes(p.Segment(i)))).ToList();
        return new(points.Max(p => p.X) - points.Min(p => p.X), points.Max(p => p.Y) - points.Min(p => p.Y));
    }

    // The ends, and where an arc runs level or plumb.
    private static IEnumerable<Vec2> Extremes(PlanSegment segment)
    {
        yield return segment.Start;
        yield return segment.End;
        if (!segment.IsArc) yield break;
        var (centre, radius) = (segment.Centre, segment.Radius);
        var from = segment.Sweep > 0 ? segment.Start - centre : segment.End - centre;
        var start = Math.Atan2(from.Y, from.X);
        for (var k = Math.Ceiling(start / (Math.PI / 2)); k * (Math.PI / 2) < start + Math.Abs(segment.Sweep); k++)
            yield return centre + (radius * new Vec2(Math.Cos(k * Math.PI / 2), Math.Sin(k * Math.PI / 2)));
    }
}
