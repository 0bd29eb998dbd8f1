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
        var indexed = new SegmentIndex?[loops.Count];
        SegmentIndex Indexed(int k) => indexed[k] ??= new(loops[k], tolerance);
        for (var i = 0; i < loops.Count; i++)
        {
            var corner = PathShape.Box(loops[i]).Low;
            var first = corners.Near(corner).FirstOrDefault(k => Covers(Indexed(k), loops[i]) && Covers(Indexed(i), loops[k]), -1);
            if (first >= 0) twins[i] = first;
            else corners.Add(corner, i);
        }

        return twins;
    }

    // Every vertex and every middle of a segment of b lies on a.
    private static bool Covers(SegmentIndex a, PlanPath b)
    {
        for (var i = 0; i < b.SegmentCount; i++)
        {
            var half = 0.5 * (b.Segment(i).End - b.Segment(i).Start);
            var middle = b.Segment(i).Start + half - (b.Segment(i).Bulge * half.Left);
            if (!a.At(b.Vertices[i].Point).Any() || !a.At(middle).Any()) return false;
        }

        return true;
    }
}
