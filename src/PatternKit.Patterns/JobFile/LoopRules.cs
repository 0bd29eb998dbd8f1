using NetTopologySuite.Geometries;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Whether the loops of one feature bound a region: within reach, none without area, none crossing itself or another.
/// Crossings, and how many points can be checked, are those of <see cref="LoopCheck"/>.
/// </summary>
internal static class LoopRules
{
    /// <summary>Smallest area that means anything in sand: a tenth of a millimetre square.</summary>
    public const double SmallestArea_mm2 = 0.01;


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

        if (LoopCheck.Excess(loops, OutlineTolerance.Chord_mm) is { } excess) return $"{excess}; simplify them, or part them into several [[part]] tables or layers.";
        var flat = loops.Select(l => l.Flatten(OutlineTolerance.Chord_mm)).ToList();
        for (var i = 0; i < loops.Count; i++)
        {
            if (OutOfReach(flat[i]) is { } far) return FarOff(far, show);
            // A loop like an eight may have no area on balance: what crosses itself is told as that.
            if (Extent(flat[i]) < SmallestArea_mm2)
                return $"a loop at {Place(flat[i][0], show)} encloses no area; take it out or draw it larger than {show(0.1)} square.";
        }

        var faults = LoopCheck.Faults(loops, OutlineTolerance.Chord_mm);
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
