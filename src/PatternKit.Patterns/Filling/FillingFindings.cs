using static System.FormattableString;

namespace PatternKit.Patterns.Filling;

/// <summary>What the filling of a mould has to tell.</summary>
internal static class FillingFindings
{
    /// <summary>The findings.</summary>
    /// <param name="plan">The filling, without them.</param>
    /// <param name="places">How many places there are in all.</param>
    public static IEnumerable<Finding> Of(FillingPlan plan, int places)
    {
        var risk = plan.Table.Risk;
        foreach (var p in plan.Places)
        {
            var isHigh = p.Ratios.Worst > risk.High;
            yield return new(
                "misrun-risk", isHigh ? Severity.Warn : Severity.Note,
                Invariant($"Near ({p.At_mm.X:0.#}, {p.At_mm.Y:0.#}, {p.At_mm.Z:0.#}) mm, {p.Way_mm:0} mm from the ingate, {(isHigh ? "metal is likely not to run" : "it is doubtful whether metal runs")} into a wall of {p.Wall_mm:0.0} mm: {Why(p)}, poured at {plan.Pour.Taken_C.Value:0} °C."),
                p.At_mm, p.Ratios.Worst, isHigh ? risk.High : risk.Doubtful, Source(plan, p), Remedy(plan, p));
        }

        if (places > plan.Places.Length)
            yield return new("misrun-risk", Severity.Note, Invariant($"Metal may not run into {places - plan.Places.Length} more places, less badly."), Limit: risk.Doubtful, Source: risk.From.Text, Remedy: "Look at those told first.");
    }

    /// <summary>Why a place may not run, in words with its ratio.</summary>
    public static string Why(FillPlace p) => p.Ratios.Kind switch
    {
        FillRisk.Front => Invariant($"until it is there, the tip of the stream loses {p.Ratios.Front:0.0#} times ({p.LowFront:0.0#} to {p.HighFront:0.0#}) the heat that it can lose before it stops"),
        FillRisk.Choked => Invariant($"the way has to stay open {p.Ratios.Choked:0.0#} times as long as may be counted on before it freezes"),
        _ => Invariant($"so narrow a place asks for {p.Ratios.Head:0.0#} times the head that presses the metal in"),
    };

    private static string Source(FillingPlan plan, FillPlace p) => p.Ratios.Kind switch
    {
        FillRisk.Front => plan.Table.FrontHeat.From.Text,
        FillRisk.Choked => plan.Table.OpenShare.From.Text,
        _ => plan.Table.Risk.From.Text,
    };

    private static string Remedy(FillingPlan plan, FillPlace p)
    {
        var none = p.HottestClears || plan.Pour.Taken_C.Value >= plan.Pour.Highest_C.Value ? "" : Invariant($" No pouring temperature of the range, up to {plan.Pour.Highest_C.Value:0} °C, clears it.");
        return p.Remedies.IsEmpty
            ? $"Thicken the wall, gate nearer to it, or pour faster.{none}"
            : $"Reckoned to clear it, each by itself: {string.Join("; ", p.Remedies.Select(r => r.Text))}.{none}";
    }
}
