using PatternKit.Foundry;
using static System.FormattableString;

namespace PatternKit.Patterns.Filling;

/// <summary>What the filling of a mould has to tell.</summary>
internal static class FillingFindings
{
    /// <summary>The findings.</summary>
    /// <param name="plan">The filling, without them.</param>
    /// <param name="places">How many places there are in all.</param>
    /// <param name="gating">Whose choke it fills through.</param>
    public static IEnumerable<Finding> Of(FillingPlan plan, int places, GatingReckoning gating)
    {
        if (Timed(plan, gating) is { } timed) yield return timed;
        if (plan.Pour.Taken_C.Value > plan.Pour.Highest_C.Value)
        {
            yield return new(
                "pour-temperature", Severity.Warn,
                Invariant($"{plan.Pour.Taken_C.Value:0} °C is hotter than this metal is usually poured, {plan.Pour.Highest_C.Value:0} °C: it takes up gas, burns into the sand and harms more when it is spilled."),
                null, plan.Pour.Taken_C.Value, plan.Pour.Highest_C.Value, plan.Pour.Highest_C.Source, "Pour cooler; clear thin places by wall, head or ingates.", "°C");
        }

        var risk = plan.Table.Risk;
        var high = plan.Places.Count(p => p.Ratios.Worst > risk.High);
        foreach (var p in plan.Places.Take(high))
            yield return Told(plan, p, Severity.Warn, "metal is likely not to run", "", risk.High);
        if (high == plan.Places.Length)
        {
            if (places > high) yield return new("misrun-risk", Severity.Note, Invariant($"Metal may not run into {places - high} more places."), Limit: risk.Doubtful, Source: risk.From.Text, Remedy: "Clear those told first.");
            yield break;
        }

        // Places in doubt are told by the worst of them.
        var more = places - high - 1;
        yield return Told(
            plan, plan.Places[high], Severity.Note, "it is doubtful whether metal runs", more switch { 0 => "", 1 => "; another place is in doubt too", _ => $"; {more} more places are in doubt too" }, risk.Doubtful);
    }

    /// <summary>Where the filling and the choke's own time differ; null where they agree. What the least choke makes faster is told with that.</summary>
    internal static Finding? Timed(FillingPlan plan, GatingReckoning gating)
    {
        var agrees = plan.Table.FillTimeAgrees_percent;
        if (Math.Abs(plan.FillTime_s - gating.FillTime_s) <= agrees.Value / 100 * gating.FillTime_s) return null;
        var choke = gating.Choke_mm2.Value * plan.FillTime_s / gating.FillTime_s;
        return new(
            "fill-time", Severity.Warn,
            Invariant($"By its level sections the mould fills in {plan.FillTime_s:0.0#} s, and its choke was reckoned for {gating.FillTime_s:0.0#} s."),
            null, plan.FillTime_s, gating.FillTime_s, agrees.From.Text,
            Invariant($"Make the choke {choke:0} mm² instead of {gating.Choke_mm2.Value:0} mm², or count on the longer or shorter time: [gating] time = {plan.FillTime_s:0.0#}."), "s");
    }

    private static Finding Told(FillingPlan plan, FillPlace p, Severity severity, string verdict, string more, double limit) => new(
        "misrun-risk", severity,
        Invariant($"Near ({p.At_mm.X:0.#}, {p.At_mm.Y:0.#}, {p.At_mm.Z:0.#}) mm, {p.Way_mm:0} mm from the ingate, {verdict} into a wall of {p.Wall_mm:0.0} mm: {Why(p)}, poured at {plan.Pour.Taken_C.Value:0} °C{more}."),
        p.At_mm, p.Ratios.Worst, limit, Source(plan, p), Remedy(plan, p));

    /// <summary>Why a place may not run, in words with its ratio.</summary>
    public static string Why(FillPlace p) => p.Ratios.Kind switch
    {
        FillRisk.Front => Invariant($"until it is there, the tip of the stream loses {p.Ratios.Front:0.0#} times ({Range(p)}) the heat that it can lose before it stops"),
        FillRisk.Choked => Invariant($"the way has to stay open {p.Ratios.Choked:0.0#} times ({Range(p)}) as long as may be counted on before it freezes"),
        _ => Invariant($"so narrow a place asks for {p.Ratios.Head:0.0#} times ({Range(p)}) the head that presses the metal in"),
    };

    /// <summary>From where to where the worst ratio of a place may be.</summary>
    private static string Range(FillPlace p) => Invariant($"{p.Low.Of(p.Ratios.Kind):0.0#} to {p.High.Of(p.Ratios.Kind):0.0#}");

    private static string Source(FillingPlan plan, FillPlace p) => p.Ratios.Kind switch
    {
        FillRisk.Front => plan.Table.FrontHeat.From.Text,
        FillRisk.Choked => $"{plan.Table.OpenShare.From.Text}; range: {plan.Table.FreezingTime_percent.From.Text}",
        _ => $"{plan.Table.Risk.From.Text}; range: {plan.Table.OxideSkin_times.From.Text}",
    };

    private static string Remedy(FillingPlan plan, FillPlace p)
    {
        var none = p.Ratios.Kind == FillRisk.Head || p.HottestClears || plan.Pour.Taken_C.Value >= plan.Pour.Highest_C.Value ? "" : Invariant($" No pouring temperature of the range, up to {plan.Pour.Highest_C.Value:0} °C, clears it.") + (p.NoneOfFamily is { } family ? $" No other {family} alloy of the table clears it." : "");
        return p.Remedies.IsEmpty
            ? $"Thicken the wall, gate nearer to it, or pour faster.{none}"
            : $"Reckoned to clear it, each by itself: {string.Join("; ", p.Remedies.Select(r => r.Text))}.{none}";
    }
}
