using PatternKit.Exchange;

namespace PatternKit.Patterns.Parts;

/// <summary>What cannot be asked of a job with turned features yet: each is refused, never ignored.</summary>
internal static class TurnedLimits
{
    /// <summary>Checks a job.</summary>
    /// <exception cref="InputException">Naming the feature and what to change.</exception>
    internal static void Check(Job job)
    {
        if (job.Features.FirstOrDefault(f => f.Turned is not null) is not { } first) return;
        InputException Error(Feature feature, string problem) => new(feature.Where, "", $"{feature.Name} is turned, and {problem}");
        if (job.Pattern.Holds != SizeHolds.Tip)
            throw Error(first, "with turned features sizes hold at the tip only in this release; take taper or hold out of [pattern].");
        if (job.Parting.Match) throw Error(first, "match = true is for parts of upright walls in this release; take it out of [parting].");
        if (job.Pattern.Camber is { Rise_mm: not 0 }) throw Error(first, "a camber bends upright walls only in this release; take it out of [pattern].");
        // Those of other parts have been looked at with their own stock.
        foreach (var feature in job.Features.Where(f => f.Turned is not null && f.Part.Length == 0))
            if (job.Pattern.Stock is { } stock && !AllRound(feature, stock))
                throw Error(feature, $"its stock goes onto its profile all round; give it by name, such as stock = {{ \"{feature.Name}\" = 1.5 }}, or one length for everything.");
    }

    private static bool AllRound(Feature feature, StockSettings stock) =>
        feature.Cut != CutKind.None
        || (stock.Names_mm is { } names && (names.ContainsKey(feature.Name) || (feature.Layer is { } layer && names.ContainsKey(layer))))
        || (stock.Top_mm == stock.Sides_mm && stock.Bottom_mm == stock.Sides_mm);
}
