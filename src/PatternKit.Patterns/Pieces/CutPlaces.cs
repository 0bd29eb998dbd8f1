using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Pieces;

/// <summary>
/// Chooses parallel lines of least cost that leave no piece longer than a bed. What a line costs is its length in the body, and what its profile rises and falls on the
/// way, above and below: bosses, holes and lettering count twice over, a flat not at all. The worst line within a margin, and within the reach of the dovetails, counts, so that feet of walls are kept clear of.
/// </summary>
internal static class CutPlaces
{
    /// <summary>The lines in ascending order; null where some stretch has no line that is free.</summary>
    /// <param name="body">The body.</param>
    /// <param name="acrossX">Whether the lines are x = constant.</param>
    /// <param name="ends">Between which coordinates the body lies, across the lines.</param>
    /// <param name="along">The same along them.</param>
    /// <param name="pieces">How many there are to be.</param>
    /// <param name="longest">The longest that a piece may be without its dovetails, mm.</param>
    /// <param name="table">The rule.</param>
    /// <param name="kept">Where no line may be.</param>
    public static ImmutableArray<double>? Choose(
        CuttableBody body, bool acrossX, (double Low, double High) ends, (double Low, double High) along, int pieces, double longest, BedCutTable table, PlanRegion kept)
    {
        if (pieces == 1) return [];
        var rule = table.Place;
        var steps = (int)Math.Floor((ends.High - ends.Low) / rule.Step_mm);
        double At(int i) => ends.Low + (i * rule.Step_mm);
        var lines = new double?[steps + 1];
        var margin = (int)Math.Ceiling(rule.Margin_mm / rule.Step_mm);
        // Dovetails reach beyond their line.
        var beyond = margin + (int)Math.Ceiling(table.Dovetail.Deepest_mm / rule.Step_mm);
        // least[i]: what the lines up to line i cost together, line i being the last of k; before[k][i]: the line before it.
        var least = Enumerable.Range(0, steps + 1).Select(i => At(i) - ends.Low <= longest ? Cost(i, 1) : double.PositiveInfinity).ToArray();
        var before = new List<int[]>();
        for (var k = 2; k < pieces; k++)
        {
            var (next, from) = (new double[steps + 1], new int[steps + 1]);
            for (var i = 0; i <= steps; i++)
            {
                from[i] = Enumerable.Range(0, i).Where(j => At(i) - At(j) <= longest).DefaultIfEmpty(-1).MinBy(j => j < 0 ? double.PositiveInfinity : least[j]);
                next[i] = from[i] < 0 || double.IsInfinity(least[from[i]]) ? double.PositiveInfinity : least[from[i]] + Cost(i, k);
            }

            before.Add(from);
            least = next;
        }

        var middle = (ends.Low + ends.High) / 2;
        var last = Enumerable.Range(0, steps + 1).Where(i => ends.High - At(i) <= longest && !double.IsInfinity(least[i])).OrderBy(i => least[i]).ThenBy(i => Math.Abs(At(i) - middle)).Select(i => (int?)i).FirstOrDefault();
        if (last is not { } line) return null;
        var chosen = new List<double> { At(line) };
        foreach (var from in before.AsEnumerable().Reverse()) chosen.Insert(0, At(line = from[line]));
        return [.. chosen];

        // Line k of all lies where pieces before and behind it can still be short enough.
        double Cost(int i, int k)
        {
            if (At(i) - ends.Low > k * longest || ends.High - At(i) > (pieces - k) * longest || !IsFree(At(i))) return double.PositiveInfinity;
            return Enumerable.Range(Math.Max(0, i - margin), Math.Min(steps, i + beyond) - Math.Max(0, i - margin) + 1).Max(j => lines[j] ??= OfLine(At(j)));
        }

        bool IsFree(double at) => kept.IsEmpty || kept.Intersection(new DovetailCut(acrossX, at, along.Low, along.High, []).Strip(table.Dovetail.Land_mm)).IsEmpty;

        double OfLine(double at)
        {
            var (length, rise, last) = (0.0, 0.0, (Top: 0.0, Bottom: 0.0));
            var count = Math.Max(1, (int)Math.Ceiling((along.High - along.Low) / rule.Step_mm));
            for (var i = 0; i <= count; i++)
            {
                var s = along.Low + ((along.High - along.Low) * i / count);
                var here = body.Surfaces(acrossX ? new Vec2(at, s) : new Vec2(s, at));
                // Where it enters and leaves the body a line rises and falls by the thickness.
                if (here.Top > here.Bottom != last.Top > last.Bottom) rise += Math.Abs(here.Top - here.Bottom - (last.Top - last.Bottom));
                else if (here.Top > here.Bottom) rise += Math.Abs(here.Top - last.Top) + Math.Abs(here.Bottom - last.Bottom);
                if (here.Top > here.Bottom) length += (along.High - along.Low) / count;
                last = here;
            }

            return length + (rule.RiseWeight * (rise + last.Top - last.Bottom));
        }
    }
}
