using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>Finds closed paths that are the same curve, wherever they start and whichever way they run.</summary>
internal static class LoopTwins
{
    /// <summary>For each loop that repeats an earlier one, the index of that one.</summary>
    public static SortedDictionary<int, int> Find(IReadOnlyList<PlanPath> loops, double tolerance)
    {
        var twins = new SortedDictionary<int, int>();
        var areas = loops.Select(l => Math.Abs(l.SignedArea())).ToArray();
        // Twins have the same area: sort by it and compare neighbours.
        var order = Enumerable.Range(0, loops.Count).OrderBy(i => areas[i]).ThenBy(i => i).ToArray();
        for (var a = 0; a < order.Length; a++)
        {
            for (var b = a + 1; b < order.Length && areas[order[b]] - areas[order[a]] <= 1e-6 * areas[order[a]]; b++)
            {
                var (first, second) = (Math.Min(order[a], order[b]), Math.Max(order[a], order[b]));
                if (!twins.ContainsKey(first) && !twins.ContainsKey(second) && IsSame(loops[first], loops[second], tolerance)) twins[second] = first;
            }
        }

        return twins;
    }

    /// <summary>Whether start, middle and end of a segment lie on one segment of a path.</summary>
    public static bool LiesOn(PlanSegment segment, Vec2 middle, PlanPath path, double tolerance)
    {
        for (var i = 0; i < path.SegmentCount; i++)
        {
            var side = path.Segment(i);
            if (SegmentDistance.To(side, segment.Start) <= tolerance && SegmentDistance.To(side, segment.End) <= tolerance && SegmentDistance.To(side, middle) <= tolerance)
                return true;
        }

        return false;
    }

    private static bool IsSame(PlanPath a, PlanPath b, double tolerance) => Covers(a, b, tolerance) && Covers(b, a, tolerance);

    // Every vertex and every middle of a segment of b lies on a.
    private static bool Covers(PlanPath a, PlanPath b, double tolerance)
    {
        for (var i = 0; i < b.SegmentCount; i++)
        {
            var half = 0.5 * (b.Segment(i).End - b.Segment(i).Start);
            var middle = b.Segment(i).Start + half - (b.Segment(i).Bulge * half.Left);
            if (Distance(a, b.Vertices[i].Point) > tolerance || Distance(a, middle) > tolerance) return false;
        }

        return true;
    }

    private static double Distance(PlanPath path, Vec2 p)
    {
        var nearest = double.PositiveInfinity;
        for (var i = 0; i < path.SegmentCount; i++) nearest = Math.Min(nearest, SegmentDistance.To(path.Segment(i), p));
        return nearest;
    }
}
