using System.Xml.Linq;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>Whether the mould fills, what would clear the places where it may not, and in which order the casting freezes.</summary>
internal static class FillingSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers)
    {
        if (kit.Gating is null) return null;
        return Tag("section", Set("aria-labelledby", "filling"),
            Tag("h2", Set("id", "filling"), "Will it fill?"),
            kit.Filling is { } filling
                ? new object?[] { Tag("p", Verdict(filling, numbers)), Places(filling, numbers), Figures(filling, numbers), HotSpots(filling, numbers), Limits(filling) }
                : Tag("p", "Not reckoned: latent heat, specific heat or freezing range of this metal are not known. Give them in shop.toml ([alloys.NAME.latent_heat] and the like), or pour a trial."));
    }

    private static string Verdict(FillingPlan filling, SheetNumbers numbers) =>
        $"{FillingLines.Verdict(filling)} Poured at {numbers.WithUnit(Math.Round(filling.Pour.Taken_C.Value), "°C")} it fills in {numbers.WithUnit(Math.Round(filling.FillTime_s, 2), "s")}" +
        (filling.Shares.Length > 1 ? $"; of the metal the ingates get {FillingLines.Shares(filling)}\u00A0%, from the sprue outward." : ".");

    private static XElement? Places(FillingPlan filling, SheetNumbers numbers) => filling.Places.IsEmpty
        ? null
        : Table("Where metal may not run, the worst first; a ratio of 1 is where it stops by this reckoning",
            ["Place", "Risk", "#Wall", "#Way from the ingate", "#Tip chilled (range)", "#Way frozen (range)", "#Head (range)", "Reckoned to clear it, each by itself"],
            filling.Places.Select(p => new object?[]
            {
                numbers.Place(p.At_mm), FillingLines.Verdict(filling, p), numbers.Length(p.Wall_mm, 1), numbers.Length(p.Way_mm, 0),
                Ratio(p, FillRisk.Front), Ratio(p, FillRisk.Choked), Ratio(p, FillRisk.Head),
                Remedies(filling, p, numbers),
            }));

    private static string Ratio(FillPlace p, FillRisk kind) => $"{SheetNumbers.Fixed(p.Ratios.Of(kind), 2)} ({SheetNumbers.Fixed(p.Low.Of(kind), 2)}\u00A0to\u00A0{SheetNumbers.Fixed(p.High.Of(kind), 2)})";

    private static string Remedies(FillingPlan filling, FillPlace place, SheetNumbers numbers)
    {
        var none = place.HottestClears || place.Ratios.Kind == FillRisk.Head ? "" : $"no pouring temperature up to {numbers.Figure(Math.Round(filling.Pour.Highest_C.Value), "°C")}";
        if (place.NoneOfFamily is { } family) none += $"{(none.Length == 0 ? "" : "; ")}no other {family} alloy of the table";
        var found = string.Join("; ", place.Remedies.Select(r => r.Text.Replace(" mm", "\u00A0mm", StringComparison.Ordinal).Replace(" °C", "\u00A0°C", StringComparison.Ordinal)));
        return found.Length == 0 ? none.Length == 0 ? "–" : none : none.Length == 0 ? found : $"{found}; {none}";
    }

    private static XElement Figures(FillingPlan filling, SheetNumbers numbers) =>
        ReckonedTable.Make("From temperature, walls and ways to ratios", FillingLines.Of(filling), numbers);

    private static XElement HotSpots(FillingPlan filling, SheetNumbers numbers) =>
        Table("The last places to freeze, the last of all first: here a casting draws, unless a feeder outlasts it", ["Middle of the section", "#Largest ball", "#Modulus in the mould", "#Freezes in", "#Cut off after", "#Liquid cut off then", "#Of it lacking when solid"],
            filling.HotSpots.Select(h => new object?[]
            {
                numbers.Place(h.At_mm), numbers.Length(h.Across_mm, 1), numbers.Length(h.Modulus_mm), Seconds(h.Freezes_s),
                h.CutOff_s is { } cut ? Seconds(cut) : "last of all", numbers.Volume(h.Pool_mm3), h.Shrinks_mm3 is { } s ? numbers.Volume(s) : "not known",
            }));

    private static string Seconds(double value) => $"{SheetNumbers.Fixed(value, value < 100 ? 1 : 0)}\u00A0s";

    private static XElement Limits(FillingPlan filling) => Tag("div",
        Tag("p", Classed("span", "practice", "common practice"), " Ratios and times are guides. The order of freezing is surer than its times: those are good to about a third until one pour has calibrated the sand."),
        Tag("ul",
            Tag("li", "Not reckoned: momentum, jets and spray, gas that pushes back, folds of oxide. Vent thin places at their far ends."),
            Tag("li", "Fillets are left out of the walls. Where the thinnest wall is below a cell, what is told of thin sections holds."),
            filling.Assumptions.Select(a => Tag("li", $"Taken for want of a figure: {a}.")),
            Tag("li", "Hotter metal brings more gas, more fume and more harm when it is spilled: do not go beyond the range of the alloy. Measure the temperature with a pyrometer before pouring; local codes and licensed practice come first.")));
}
