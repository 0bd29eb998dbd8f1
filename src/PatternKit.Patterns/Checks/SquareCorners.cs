using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Checks;

/// <summary>
/// Inside corners between upright walls that are square, seen in level sections of the finished halves: the edges of
/// sand in them crumble. Corners between a wall and a flat are the business of the fillets.
/// </summary>
internal static class SquareCorners
{
    /// <summary>Sections need no finer arcs, mm.</summary>
    private const double Chord_mm = 0.01;

    /// <summary>So many places are listed.</summary>
    private const int Listed = 8;

    /// <summary>The square corners of both halves.</summary>
    /// <param name="bare">Both halves of the casting, core prints left out.</param>
    /// <param name="filleted">Both halves as they are made.</param>
    /// <param name="table">What counts as square.</param>
    /// <param name="fillets">The least fillet.</param>
    /// <param name="frame">From job to pattern.</param>
    public static IEnumerable<Finding> Of((HalfMould Cope, HalfMould Drag) bare, (HalfMould Cope, HalfMould Drag) filleted, DrawTable table, FilletTable fillets, PatternFrame frame) =>
        Of(bare.Cope, filleted.Cope, MouldHalf.Cope, table, fillets.Least_mm.Value, frame).Concat(Of(bare.Drag, filleted.Drag, MouldHalf.Drag, table, fillets.Least_mm.Value, frame));

    private static IEnumerable<Finding> Of(HalfMould mould, HalfMould filleted, MouldHalf half, DrawTable table, double least_mm, PatternFrame frame)
    {
        var radius = table.SquareCorner_mm.Value;
        var corners = new List<Corner>();
        var levels = mould.IsEmpty ? [] : mould.Levels_mm();
        for (var i = 0; i + 1 < levels.Length; i++)
        {
            var (low, high) = (levels[i], levels[i + 1]);
            foreach (var (fill, at, _, rounding) in InsideCorners.Of(mould.Section((low + high) / 2), radius, Chord_mm))
            {
                // A fillet that climbs up between the walls has filled it.
                if (filleted.RaisedByFillets(at) > (high - low) / 2 || filleted.IsFilledByFillets(fill.Centroid, (low + high) / 2)) continue;
                var below = corners.FindIndex(c => c.High == low && Vec2.Distance(c.At, at) < radius + mould.Run(high - c.Low));
                if (below < 0) corners.Add(new(at, low, high, rounding));
                else corners[below] = corners[below] with { High = high, Radius = Math.Min(corners[below].Radius, rounding) };
            }
        }

        var square = corners.Where(c => c.High - c.Low >= table.LeastDepth_mm.Value).OrderBy(c => c.Radius).ThenByDescending(c => c.High - c.Low).ToArray();
        if (square.Length == 0) yield break;
        var worst = square[0];
        var places = square.Select(c => frame.ToJob(new(c.At.X, c.At.Y, (half == MouldHalf.Cope ? 1 : -1) * (c.Low + c.High) / 2))).ToArray();
        var list = string.Join(", ", places.Take(Listed).Select(p => Invariant($"({p.X:0.#}, {p.Y:0.#})")));
        var more = places.Length > Listed ? Invariant($" and {places.Length - Listed} more") : "";
        var sharp = worst.Radius < 0.05 ? "square" : Invariant($"rounded by {worst.Radius:0.#} mm only");
        yield return new(
            "square-corner", Severity.Warn,
            Invariant($"{(square.Length == 1 ? "An inside corner is" : $"{square.Length} inside corners are")} {sharp} between upright walls of the {(half == MouldHalf.Cope ? "cope" : "drag")} half, up to {square.Max(c => c.High - c.Low):0.#} mm high, near {list}{more} mm: the edge of sand in {(square.Length == 1 ? "it" : "them")} may crumble at the draw or wash away."),
            places[0], worst.Radius, radius, table.SquareCorner_mm.From.Text,
            Invariant($"Round them in the drawing, with R {least_mm:0.#} mm or more, or with wax on the pattern."), "mm");
    }

    private sealed record Corner(Vec2 At, double Low, double High, double Radius);
}
