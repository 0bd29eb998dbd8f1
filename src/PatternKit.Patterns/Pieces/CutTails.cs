using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Pieces;

/// <summary>Spreads dovetails along a cut where the body is firm all round them: of the widest size that has room anywhere.</summary>
internal static class CutTails
{
    private const double Step_mm = 1;

    /// <summary>The dovetails in ascending order; none where no size has room.</summary>
    /// <param name="cut">The cut without any.</param>
    /// <param name="along">Between which places of it the body lies.</param>
    /// <param name="firm">Where the body is thick enough, and nothing else is planned.</param>
    /// <param name="table">Sizes.</param>
    public static ImmutableArray<Dovetail> Along(DovetailCut cut, (double Low, double High) along, PlanRegion firm, BedCutTable table)
    {
        var sizes = table.Dovetail;
        foreach (var neck in sizes.Necks_mm)
        {
            var size = new Dovetail(0, neck, neck * sizes.Depth_necks, table.Flare.Value);
            var tails = Runs(Places(cut, size, along, firm, sizes.Land_mm)).SelectMany(r => Spread(r.From, r.To, sizes.Pitch_mm)).Select(at => size with { Middle = at }).ToImmutableArray();
            if (!tails.IsEmpty) return tails;
        }

        return [];
    }

    private static IEnumerable<double> Places(DovetailCut cut, Dovetail size, (double Low, double High) along, PlanRegion firm, double land) =>
        from i in Enumerable.Range(0, (int)((along.High - along.Low) / Step_mm) + 1)
        let tail = size with { Middle = along.Low + (i * Step_mm) }
        where firm.Covers(cut.Around(tail, land))
        select tail.Middle;

    /// <summary>Stretches without a gap.</summary>
    private static IEnumerable<(double From, double To)> Runs(IEnumerable<double> places)
    {
        (double From, double To)? run = null;
        foreach (var at in places)
        {
            if (run is { } open && at - open.To > 1.5 * Step_mm)
            {
                yield return open;
                run = null;
            }

            run = (run?.From ?? at, at);
        }

        if (run is { } rest) yield return rest;
    }

    /// <summary>One in the middle of a short stretch; in a long one from end to end, no closer than the pitch.</summary>
    private static IEnumerable<double> Spread(double from, double to, double pitch)
    {
        var more = (int)((to - from) / pitch);
        return more == 0 ? [(from + to) / 2] : Enumerable.Range(0, more + 1).Select(i => from + ((to - from) * i / more));
    }
}
