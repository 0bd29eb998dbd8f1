using System.Collections.Immutable;
using NetTopologySuite.Operation.Distance;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using static System.FormattableString;

namespace PatternKit.Patterns.Kits;

/// <summary>
/// Puts castings of one mould in a row along x or y, with as much sand between their patterns, core prints included, as between a pattern and the flask: of both ways the one that
/// takes the smaller flask, but none in which core prints lie before the side that the row is gated by.
/// </summary>
internal static class ImpressionRow
{
    /// <summary>The places of the part's origin, the first where the job has it, in whole millimetres.</summary>
    /// <param name="job">The job of one part.</param>
    /// <param name="count">How many.</param>
    /// <param name="tables">Rules.</param>
    public static ImmutableArray<Vec2> Of(Job job, int count, FoundryTables tables)
    {
        var one = KitBuilder.Build(job with { Impressions = null, Plate = null, Gating = new(Wanted: false), Feeders = false }, tables with { Growth = null });
        var box = one.Bodies.Concat(one.Loose.Select(l => l.Metal)).Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (all, b) => all.With(b.Low).With(b.High)).Size;
        var sand = Sand(one.Metal.Casting_kg, tables).Value;
        var steps = new[] { (Along: new Vec2(1, 0), Pitch: Pitch(box.X), Barred: Lies(TurnedAxis.Y)), (Along: new Vec2(0, 1), Pitch: Pitch(box.Y), Barred: Lies(TurnedAxis.X)) };
        var best = steps.OrderBy(s => s.Barred).ThenBy(s => Area(s.Along, s.Pitch)).First();
        return [.. Enumerable.Range(0, count).Select(i => i * best.Pitch * best.Along)];

        double Pitch(double size) => Math.Ceiling((size + sand) / one.Scale);

        double Area(Vec2 along, double pitch)
        {
            var row = (count - 1) * one.Scale * pitch;
            return (box.X + (along.X * row) + (2 * sand)) * (box.Y + (along.Y * row) + (2 * sand));
        }

        bool Lies(TurnedAxis axis) => job.Features.Any(f => f.Cut == CutKind.Cored && f.Turned?.Axis == axis);
    }

    /// <summary>Least sand between two patterns in one mould.</summary>
    public static Sourced<double> Sand(double casting_kg, FoundryTables tables) => tables.Plates.Margin_mm(casting_kg);

    /// <summary>Castings that have less sand between them.</summary>
    /// <param name="footprint">All patterns at the joint, prints included.</param>
    /// <param name="castings">Boxes of the castings in plan, pattern millimetres.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="sand">The least sand.</param>
    public static IEnumerable<Finding> Near(PlanRegion footprint, ImmutableArray<(Vec2 Low, Vec2 High)> castings, Casting.PatternFrame frame, Sourced<double> sand)
    {
        var groups = footprint.Pieces().Select(p => (Piece: p, Middle: new Vec2(p.Geometry.EnvelopeInternal.Centre.X, p.Geometry.EnvelopeInternal.Centre.Y)))
            .GroupBy(p => Enumerable.Range(0, castings.Length).MinBy(i => Vec2.Distance(p.Middle, (castings[i].Low + castings[i].High) / 2)))
            .Select(g => PlanRegion.Union(g.Select(p => p.Piece))).ToArray();
        if (groups.Length < castings.Length)
        {
            var p = frame.ToJob(new(footprint.InnerPoint.X, footprint.InnerPoint.Y, 0));
            yield return new("impressions-near", Severity.Stop, "Two castings of the mould run into each other at the joint, draft and core prints included.", p, 0, sand.Value, sand.Source, "Move their places apart.", "mm");
            yield break;
        }

        if (groups.Length < 2) yield break;
        var (gap_mm, first, second) = groups.SelectMany((g, i) => groups.Skip(i + 1).Select(o => (Gap_mm: g.Geometry.Distance(o.Geometry), First: g, Second: o))).MinBy(p => p.Gap_mm);
        if (gap_mm >= sand.Value - 0.01) yield break;
        var nearest = DistanceOp.NearestPoints(first.Geometry, second.Geometry);
        var at = frame.ToJob(new((nearest[0].X + nearest[1].X) / 2, (nearest[0].Y + nearest[1].Y) / 2, 0));
        yield return new(
            "impressions-near", Severity.Warn, Invariant($"Between two castings of the mould, near ({at.X:0.#}, {at.Y:0.#}) mm, are {gap_mm:0.#} mm of sand at the joint: it may break, and it freezes both late."),
            at, gap_mm, sand.Value, sand.Source, Invariant($"Leave {sand.Value:0.#} mm between their patterns."), "mm");
    }
}
