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
        // Twins have the same box; only loops with the same lower left corner of it are compared.
        var corners = new PointGrid(2 * tolerance);
        for (var i = 0; i < loops.Count; i++)
        {
            var corner = PathShape.Box(loops[i]).Low;
            var first = corners.Near(corner).FirstOrDefault(k => IsSame(loops[k], loops[i], tolerance), -1);
            if (first >= 0) twins[i] = first;
            else corners.Add(corner, i);
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
