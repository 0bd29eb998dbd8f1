using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Checks;

/// <summary>
/// Inside corners between upright walls that are square, seen in level sections of the finished halves: what closing a section with a
/// disc of the least radius adds is a corner where the outline turns inward along it (Serra 1982: the closing's residue). Corners between a
/// wall and a flat are the business of the fillets.
/// </summary>
internal static class SquareCorners
{
    /// <summary>Chords of the closing's arcs keep to this part of its radius.</summary>
    private const double Fineness = 0.002;

    /// <summary>Outlines that turn by less than this are no corners, radians.</summary>
    private const double LeastTurn = Math.PI / 4;

    /// <summary>The square corners of both halves.</summary>
    public static IEnumerable<Finding> Of(HalfMould cope, HalfMould drag, DrawTable table, PatternFrame frame) =>
        Of(cope, MouldHalf.Cope, table, frame).Concat(Of(drag, MouldHalf.Drag, table, frame));

    private static IEnumerable<Finding> Of(HalfMould mould, MouldHalf half, DrawTable table, PatternFrame frame)
    {
        var radius = table.SquareCorner_mm.Value;
        var corners = new List<Corner>();
        var levels = mould.IsEmpty ? [] : mould.Levels_mm();
        for (var i = 0; i + 1 < levels.Length; i++)
        {
            var (low, high) = (levels[i], levels[i + 1]);
            foreach (var (at, rounding) in In(mould.Section((low + high) / 2), radius))
            {
                // A fillet that climbs up between the walls has filled it.
                if (mould.RaisedByFillets(at) > (high - low) / 2) continue;
                var below = corners.FindIndex(c => c.High == low && Vec2.Distance(c.At, at) < radius + mould.Run(high - c.Low));
                if (below < 0) corners.Add(new(at, low, high, rounding));
                else corners[below] = corners[below] with { High = high, Radius = Math.Min(corners[below].Radius, rounding) };
            }
        }

        foreach (var c in corners.Where(c => c.High - c.Low >= table.LeastDepth_mm.Value))
        {
            var at = frame.ToJob(new(c.At.X, c.At.Y, (half == MouldHalf.Cope ? 1 : -1) * (c.Low + c.High) / 2));
            var rounded = c.Radius < 0.05 ? "is square" : Invariant($"is rounded by {c.Radius:0.#} mm only");
            yield return new(
                "square-corner", Severity.Warn,
                Invariant($"The inside corner near ({at.X:0.#}, {at.Y:0.#}) mm of the {(half == MouldHalf.Cope ? "cope" : "drag")} half, {c.High - c.Low:0.#} mm high, {rounded}: the edge of sand in it may crumble at the draw or wash away."),
                at, c.Radius, radius, table.SquareCorner_mm.From.Text,
                Invariant($"Round it in the drawing, with R {FoundryTables.Default.Fillets.Least_mm.Value:0.#} mm or more, or with wax on the pattern."), "mm");
        }
    }

    private readonly record struct Corner(Vec2 At, double Low, double High, double Radius);

    /// <summary>Inside corners of a section that are rounded by less than a radius, each with its rounding.</summary>
    private static IEnumerable<(Vec2 At, double Rounding)> In(PlanRegion section, double radius)
    {
        var turns = InwardTurns(section).ToArray();
        if (turns.Length == 0) yield break;
        var closed = section.Offset(radius, Fineness * radius).Offset(-radius, Fineness * radius);
        foreach (var piece in closed.Difference(section).WithoutSlivers(2 * Fineness * radius).Pieces())
        {
            var near = piece.Geometry.EnvelopeInternal;
            near.ExpandBy(Fineness * radius);
            var inside = turns.Where(t => near.Contains(t.At.X, t.At.Y) && piece.Geometry.IsWithinDistance(new NetTopologySuite.Geometries.Point(t.At.X, t.At.Y), Fineness * radius)).ToArray();
            var turn = inside.Sum(t => t.Turn);
            // A whole slot is narrow sand, not a corner.
            if (turn is < LeastTurn or > Math.PI) continue;
            // Between its tangents a corner that turns by τ holds r² (tan(τ/2) − τ/2) more than one rounded by r.
            var whole = Math.Tan(turn / 2) - (turn / 2);
            var rounding = Math.Sqrt(Math.Max(0, (radius * radius) - (piece.Area / whole)));
            if (rounding < 0.95 * radius) yield return (inside.MaxBy(t => t.Turn).At, rounding);
        }
    }

    /// <summary>The vertices at which the outline turns away from the metal's outside, and by how much, radians.</summary>
    private static IEnumerable<(Vec2 At, double Turn)> InwardTurns(PlanRegion section)
    {
        foreach (var ring in section.Rings())
        {
            for (var i = 0; i < ring.Length; i++)
            {
                var (a, b, c) = (ring[(i + ring.Length - 1) % ring.Length], ring[i], ring[(i + 1) % ring.Length]);
                var turn = Math.Atan2(Vec2.Cross(b - a, c - b), Vec2.Dot(b - a, c - b));
                // Rings keep the metal on one side: outer ones turn left all in all, inner ones right.
                if (turn < -1e-6) yield return (b, -turn);
            }
        }
    }
}
