using NetTopologySuite.Geometries;
using NetTopologySuite.Index.Strtree;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Whether the loops of one feature bound a region: within reach, none without area, none crossing itself or another.
/// Crossings are those of <see cref="LoopCheck"/>; what comes before it keeps its work within bounds, since a job or
/// drawing may come from a stranger.
/// </summary>
internal static class LoopRules
{
    /// <summary>Smallest area that means anything in sand: a tenth of a millimetre square.</summary>
    public const double SmallestArea_mm2 = 0.01;

    private const double Chord_mm = 0.002;
    private const double MostPoints = 300_000;

    // Points of both loops, summed over the pairs of loops whose boxes meet.
    private const double MostPairedPoints = 5_000_000;

    /// <summary>What is wrong with the loops, with the place, or null.</summary>
    /// <param name="loops">Closed loops, mm.</param>
    /// <param name="show">Writes a length in the user's unit.</param>
    public static string? Problem(IReadOnlyList<PlanPath> loops, Func<double, string> show)
    {
        foreach (var loop in loops)
        {
            var corners = loop.Vertices.Select(v => v.Point);
            if (OutOfReach(corners) is { } far) return FarOff(far, show);
        }

        if (loops.Sum(Points) > MostPoints) return $"the loops need more than {MostPoints:0} points to follow their arcs; simplify them, or part them into several [[part]] tables.";
        var flat = loops.Select(l => l.Flatten(Chord_mm)).ToList();
        for (var i = 0; i < loops.Count; i++)
        {
            if (OutOfReach(flat[i]) is { } far) return FarOff(far, show);
            // A loop like an eight may have no area on balance: what crosses itself is told as that.
            if (Extent(flat[i]) < SmallestArea_mm2)
                return $"a loop at {Place(flat[i][0], show)} encloses no area; take it out or draw it larger than {show(0.1)} square.";
        }

        if (PairedPoints(flat) > MostPairedPoints) return "too many loops lie within or over each other to be checked; part them into several [[part]] tables, or the drawing into layers.";
        var faults = LoopCheck.Faults(loops, Chord_mm);
        if (!faults.IsEmpty)
        {
            var (self, place) = (faults[0].Loop == faults[0].Other, Place(faults[0].At, show));
            return self
                ? $"a loop crosses or touches itself at {place}; part it there into loops that do not."
                : $"two loops cross near {place}, or lie on each other; loops of one [[part]] lie beside or inside each other. Write each as its own [[part]], or part the drawing into layers.";
        }

        for (var i = 0; i < loops.Count; i++)
            if (Math.Abs(loops[i].SignedArea()) < SmallestArea_mm2)
                return $"a loop at {Place(flat[i][0], show)} encloses no area; take it out or draw it larger than {show(0.1)} square.";
        return null;
    }

    // As PlanPath.Flatten will need, at most.
    private static double Points(PlanPath loop)
    {
        double sum = 0;
        for (var i = 0; i < loop.SegmentCount; i++)
        {
            var s = loop.Segment(i);
            sum += s.IsArc ? 1 + (Math.Abs(s.Sweep) / Math.Min(Math.PI / 4, 2 * Math.Sqrt(2 * Chord_mm / Math.Max(s.Radius, Chord_mm)))) : 1;
        }

        return sum;
    }

    private static double PairedPoints(List<List<Vec2>> loops)
    {
        var tree = new STRtree<int>();
        var boxes = loops.Select(Box).ToList();
        for (var i = 0; i < loops.Count; i++) tree.Insert(boxes[i], i);
        double sum = 0;
        for (var i = 0; i < loops.Count && sum <= MostPairedPoints; i++)
            foreach (var j in tree.Query(boxes[i]))
                if (j > i) sum += loops[i].Count + loops[j].Count;
        return sum;
    }

    private static Envelope Box(List<Vec2> points)
    {
        var box = new Envelope();
        foreach (var p in points) box.ExpandToInclude(p.X, p.Y);
        return box;
    }

    private static double Extent(List<Vec2> points) => points.Count < 3 ? 0 : Box(points).Area;

    private static Vec2? OutOfReach(IEnumerable<Vec2> points)
    {
        foreach (var p in points)
            if (!(Math.Abs(p.X) <= Values.LargestLength_mm && Math.Abs(p.Y) <= Values.LargestLength_mm))
                return p;
        return null;
    }

    private static string FarOff(Vec2 p, Func<double, string> show) =>
        $"a loop reaches {Place(p, show)}, farther than {show(Values.LargestLength_mm)} from the origin; move it, or correct the unit.";

    private static string Place(Vec2 p, Func<double, string> show) => $"({show(p.X)}, {show(p.Y)})";
}
