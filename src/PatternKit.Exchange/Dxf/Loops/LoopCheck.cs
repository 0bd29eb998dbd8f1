using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Index.Strtree;
using NetTopologySuite.Operation.Distance;
using NetTopologySuite.Operation.Valid;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>A place where loops do not bound an area.</summary>
/// <param name="Loop">Index of the loop.</param>
/// <param name="Other">Index of the loop that it crosses; the same index where it crosses or touches itself.</param>
/// <param name="At">A place where that happens.</param>
public readonly record struct LoopFault(int Loop, int Other, Vec2 At);

/// <summary>
/// Finds loops that cross themselves or each other, on their flattened shapes (NetTopologySuite: simple-geometry and
/// DE-9IM relation tests). Loops may lie inside one another, and may touch.
/// </summary>
public static class LoopCheck
{
    private const double MostPoints = 300_000;

    // Points of both loops, summed over the pairs of loops whose boxes meet.
    private const double MostPairedPoints = 5_000_000;
    private static readonly GeometryFactory Factory = new();

    /// <summary>Why the loops are more than can be checked in a few seconds, or null: a drawing may come from a stranger.</summary>
    /// <param name="loops">Closed paths.</param>
    /// <param name="chordTolerance">As <see cref="Faults"/> will be given.</param>
    public static string? Excess(IReadOnlyList<PlanPath> loops, double chordTolerance)
    {
        ArgumentNullException.ThrowIfNull(loops);
        var points = loops.Select(l => Points(l, chordTolerance)).ToList();
        if (points.Sum() > MostPoints) return $"the loops need more than {MostPoints:0} points to follow their arcs";
        var tree = new STRtree<int>();
        var boxes = loops.Select(l => Box(l, chordTolerance)).ToList();
        for (var i = 0; i < loops.Count; i++) tree.Insert(boxes[i], i);
        double paired = 0;
        for (var i = 0; i < loops.Count; i++)
        {
            foreach (var j in tree.Query(boxes[i]))
                if (j > i) paired += points[i] + points[j];
            if (paired > MostPairedPoints) return "too many loops lie within or over each other to be checked";
        }

        return null;
    }

    /// <summary>All faults, loop by loop; none when the loops bound an area. Ask <see cref="Excess"/> first.</summary>
    /// <param name="loops">Closed paths.</param>
    /// <param name="chordTolerance">Largest distance of a chord from its arc; walls thinner than that may be taken for crossings.</param>
    public static ImmutableArray<LoopFault> Faults(IReadOnlyList<PlanPath> loops, double chordTolerance)
    {
        ArgumentNullException.ThrowIfNull(loops);
        var faults = ImmutableArray.CreateBuilder<LoopFault>();
        var tree = new STRtree<int>();
        var polygons = new Polygon?[loops.Count];
        for (var i = 0; i < loops.Count; i++)
        {
            var points = loops[i].Flatten(chordTolerance);
            if (SelfFault(points) is { } at)
            {
                faults.Add(new(i, i, at));
                continue;
            }

            polygons[i] = Factory.CreatePolygon([.. points.Append(points[0]).Select(p => new Coordinate(p.X, p.Y))]);
            tree.Insert(polygons[i]!.EnvelopeInternal, i);
        }

        for (var i = 0; i < loops.Count; i++)
        {
            if (polygons[i] is not { } polygon) continue;
            foreach (var other in tree.Query(polygon.EnvelopeInternal).Where(o => o > i).Order())
                if (Crossing(polygon, polygons[other]!) is { } at) faults.Add(new(i, other, at));
        }

        return faults.ToImmutable();
    }

    /// <summary>Refuses loops that cross.</summary>
    /// <exception cref="InputException">There is a fault, its place in the message; or too much to check.</exception>
    public static void Demand(IReadOnlyList<PlanPath> loops, double chordTolerance, string sourceName)
    {
        if (Excess(loops, chordTolerance) is { } excess) throw new InputException(sourceName, "", $"{excess}. Is this layer a hatching? Simplify it.");
        var faults = Faults(loops, chordTolerance);
        if (faults.IsEmpty) return;
        var f = faults[0];
        var what = f.Loop == f.Other ? $"an outline crosses or touches itself at {Say.At(f.At)}" : $"two outlines cross at {Say.At(f.At)}";
        var more = faults.Length > 1 ? $" There are {faults.Length} such places." : "";
        throw new InputException(sourceName, "", $"{what}.{more} Redraw them so that outlines lie apart or inside one another.");
    }

    private static Vec2? SelfFault(List<Vec2> points)
    {
        var distinct = new List<Coordinate>();
        foreach (var p in points)
            if (distinct.Count == 0 || distinct[^1].X != p.X || distinct[^1].Y != p.Y) distinct.Add(new(p.X, p.Y));
        if (distinct.Count > 1 && distinct[^1].Equals2D(distinct[0])) distinct.RemoveAt(distinct.Count - 1);
        if (distinct.Count < 3) return points[0];
        distinct.Add(distinct[0].Copy());
        var simple = new IsSimpleOp(Factory.CreateLinearRing([.. distinct]));
        if (simple.IsSimple()) return null;
        var at = simple.NonSimpleLocation;
        return new Vec2(at.X, at.Y);
    }

    // Loops that lie on each other but for the last digits, so that the relation cannot be told, count as crossing.
    private static bool Cross(Polygon a, Polygon b)
    {
        try
        {
            return a.Overlaps(b) || a.EqualsTopologically(b);
        }
        catch (TopologyException)
        {
            return true;
        }
    }

    private static Vec2? Crossing(Polygon a, Polygon b)
    {
        if (!Cross(a, b)) return null;
        var shared = DistanceOp.NearestPoints(a.Shell, b.Shell)[0];
        return new Vec2(shared.X, shared.Y);
    }

    // As PlanPath.Flatten will need, at most.
    private static double Points(PlanPath loop, double chordTolerance)
    {
        double sum = 0;
        for (var i = 0; i < loop.SegmentCount; i++)
        {
            var s = loop.Segment(i);
            sum += s.IsArc ? 1 + (Math.Abs(s.Sweep) / Math.Min(Math.PI / 4, 2 * Math.Sqrt(2 * chordTolerance / Math.Max(s.Radius, chordTolerance)))) : 1;
        }

        return sum;
    }

    private static Envelope Box(PlanPath loop, double chordTolerance)
    {
        var box = new Envelope();
        foreach (var p in loop.Flatten(chordTolerance)) box.ExpandToInclude(p.X, p.Y);
        return box;
    }
}
