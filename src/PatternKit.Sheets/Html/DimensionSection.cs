using System.Globalization;
using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The dimensions that matter: on the pattern, as cast with tolerance and spread, what is left to take off, and the mate.</summary>
internal static class DimensionSection
{
    public static XElement Make(Kit kit, SheetNumbers numbers) =>
        Tag("section", Set("aria-labelledby", "dimensions"),
            Tag("h2", Set("id", "dimensions"), "Dimensions that matter"),
            Tag("p", $"Finished part: {numbers.Size(kit.PartBox_mm.Size)}. Pattern over casting: {SheetNumbers.Fixed(kit.Scale, 5)}.{(kit.IsMixed ? $" Sizes of the other parts of the mould begin with their names; of several castings of one part these are of the first." : kit.CastingCount > 1 ? $" Of the {kit.CastingCount} castings of the mould, these are sizes of the first." : "")}"),
            kit.Measures.IsEmpty
                ? Tag("p", "The job names no dimension to follow. Add [[measure]] entries to have them reported here.")
                : new object?[] { Sizes(kit, numbers), Fits(kit, numbers), Sources(kit), Learning(kit) });

    private static XElement Sizes(Kit kit, SheetNumbers numbers) => Table(
        "From the part to the pattern and back to the casting; check the pattern against the third column. The tolerance is that of the contract, the spread what this shop is to expect",
        ["Dimension", "#Nominal", "#Pattern", "#As cast, before machining", "#Spread of the shop", "#Left to file or machine", "#Stock in it"],
        kit.Measures.Select(m => new object?[]
        {
            m.Name, numbers.Length(m.Nominal_mm), Met(m.Pattern_mm, v => numbers.Length(v)),
            Met(m.AsCast_mm, v => $"{numbers.Length(v)} ±\u00A0{numbers.Length(m.Tolerance_mm)}"),
            m.Spread_mm is { } spread ? $"±\u00A0{numbers.Length(spread.Value)}" : "–",
            m.Left_mm is { } left ? numbers.Length(left) : "–", numbers.Length(m.Stock_mm),
        }));

    private static XElement? Fits(Kit kit, SheetNumbers numbers) => kit.Measures.All(m => m.Fit is null) ? null : Table(
        "Mates: what goes into a dimension or over it; a clearance below nothing does not go", ["Dimension", "Mate", "#Clearance asked for", "#Clearance as cast", "#Clearance at the nominal size"],
        kit.Measures.Where(m => m.Fit is not null).Select(m => new object?[]
        {
            m.Name, $"{numbers.Length(m.Fit!.Mate_mm)}, {(m.Fit.IsHole ? "goes in" : "goes over")}", numbers.Length(m.Fit.Asked_mm),
            m.Spread_mm is { } spread ? $"{numbers.Length(m.Fit.AsCast_mm)} ±\u00A0{numbers.Length(spread.Value)}" : numbers.Length(m.Fit.AsCast_mm), numbers.Length(m.Fit.Machined_mm),
        }));

    private static XElement Sources(Kit kit) => Table("Where tolerance and spread come from", ["Dimension", "Tolerance", "Spread"], kit.Measures.Select(m => new object?[]
    {
        m.Name, m.Source, m.Spread_mm is { } spread ? $"{spread.Rule}; {spread.Source}" : "–",
    }));

    /// <summary>What to write down when the casting is measured: with the numbers in, since a slip here would be learnt.</summary>
    private static XElement? Learning(Kit kit) => kit.Measures.FirstOrDefault(m => m.Pattern_mm is not null) is not { } m ? null : Tag("p",
        "Measure the cold casting before it is filed, and enter each size in shop.toml; from five of an alloy in a sand on, contraction and spread are taken from your own castings. For “" + m.Name + "”: ",
        Tag("code", string.Create(CultureInfo.InvariantCulture, $"[[cast]] alloy = \"{kit.Job.Alloy}\", sand = \"{kit.Job.Sand}\", pattern_mm = {m.Pattern_mm:0.00}, rapping_mm = {m.Rapping_mm:0.00}, casting_mm = …")),
        ", each on a line of its own.");

    private static string Met(double? value, Func<double, string> show) => value is { } v ? show(v) : "no surface met there";
}
