using System.Collections.Immutable;
using PatternKit.Foundry;
using static System.FormattableString;

namespace PatternKit.Patterns.Kits;

/// <summary>Sizes that the spread of the shop may spoil: stock that does not cover it, and mates that may not go where no stock lies.</summary>
internal static class MeasureFindings
{
    /// <summary>All of them.</summary>
    /// <param name="measures">As the job has them.</param>
    /// <param name="results">In the same order.</param>
    public static IEnumerable<Finding> Of(ImmutableArray<Measure> measures, ImmutableArray<MeasureResult> results) => measures.Zip(results, One).SelectMany(f => f);

    private static IEnumerable<Finding> One(Measure m, MeasureResult r)
    {
        if (r.Spread_mm is not { } spread) yield break;
        if (r is { Stock_mm: > 0, Left_mm: { } left } && left < spread.Value)
        {
            yield return new(
                "stock-short", Severity.Warn,
                Invariant($"\"{m.Name}\": {left:0.##} mm are left to machine, and sizes spread by {spread.Value:0.##} mm either way: a casting may come out with a black spot, or too small to clean up."),
                null, left, spread.Value, spread.Source, "Give more stock there ([pattern] stock), or a taper that adds metal.", "mm");
        }

        if (m.Mate_mm is null) yield break;
        if (r.Fit is not { } fit)
        {
            yield return new("fit", Severity.Note, $"\"{m.Name}\" names a mate, but its ends do not meet two faces of metal that look at each other or away from each other: the fit is not reckoned.",
                Remedy: "Let from and to lie on the two faces of a hole, or of what goes into one.");
            yield break;
        }

        var goes = fit.IsHole ? "goes in" : "goes over";
        if (r.Stock_mm > 0)
        {
            if (fit.Machined_mm >= fit.Asked_mm) yield break;
            yield return new("fit", Severity.Warn, Invariant($"\"{m.Name}\" is machined to {m.Nominal_mm:0.###} mm, and its mate of {fit.Mate_mm:0.###} mm {goes} with a clearance of {fit.Machined_mm:0.###} mm."),
                null, fit.Machined_mm, fit.Asked_mm, "asked in the job", "Change nominal, mate or clearance.", "mm");
        }
        else if (fit.AsCast_mm - spread.Value < fit.Asked_mm)
        {
            yield return new("fit", Severity.Warn,
                Invariant($"\"{m.Name}\" is used as cast, {r.AsCast_mm:0.##} mm and a spread of {spread.Value:0.##} mm either way: the clearance to its mate of {fit.Mate_mm:0.###} mm is {fit.AsCast_mm:0.##} mm, and may be {fit.AsCast_mm - spread.Value:0.##} mm."),
                null, fit.AsCast_mm - spread.Value, fit.Asked_mm, spread.Source, "Put stock on its faces and machine it, or give more clearance.", "mm");
        }
    }
}
