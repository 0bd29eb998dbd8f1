using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The tables of figures: allowances, volumes, weights.</summary>
internal static class FigureSection
{
    public static XElement Allowances(Kit kit, SheetNumbers numbers) =>
        Tag("section", Set("aria-labelledby", "allowances"),
            Tag("h2", Set("id", "allowances"), "Allowances and decisions"),
            kit.Decisions.IsEmpty ? Tag("p", "None.") : Table("Every value with the rule that gave it and where the rule comes from",
                ["What", "#Value", "Rule", "Source"],
                kit.Decisions.Select(d => new object?[]
                {
                    d.Label, numbers.WithUnit(d.Value, d.Unit), d.Rule, d.Source.Length == 0 ? "–" : d.Source,
                })));

    public static XElement Volumes(Kit kit, SheetNumbers numbers)
    {
        var bridge = kit.Bridge;
        (string Name, double Value)[] terms =
        [
            ("Finished part", bridge.Part_mm3), ("Machining stock", bridge.Stock_mm3), ("Cuts and hollows filled", bridge.Filled_mm3),
            ("Contraction", bridge.Contraction_mm3), ("Rapping and camber", bridge.Rapping_mm3), .. bridge.Prints_mm3 == 0 ? [] : new[] { ("Core prints", bridge.Prints_mm3) }, .. bridge.Loose_mm3 == 0 ? [] : new[] { ("Loose pieces, drafted", bridge.Loose_mm3) }, ("Draft", bridge.Draft_mm3),
            ("Fillets", bridge.Fillet_mm3), ("Rounds", bridge.Round_mm3), (kit.Loose.IsEmpty ? "Dowel holes, draw-screw pockets and marks" : "Dowel holes, draw-screw pockets, marks, and gaps round the tongues of loose pieces", bridge.Pockets_mm3),
        ];
        var table = Table("How the volume of the pattern comes about; each term is reckoned by itself", ["Term", "#Volume"],
        [
            .. terms.Select((t, i) => new object?[] { t.Name, (i > 0 && t.Value > 0 ? "+" : "") + numbers.Volume(t.Value) }),
            ["Sum of the terms", numbers.Volume(bridge.Sum_mm3)],
            ["Pattern, measured on its meshes", numbers.Volume(bridge.Pattern_mm3)],
            ["Sum against pattern", double.IsFinite(bridge.Gap) ? $"{SheetNumbers.Fixed(100 * bridge.Gap, 3)}\u00A0%" : "–"],
        ]);
        foreach (var row in table.Descendants(Xhtml + "tr").SkipLast(1).TakeLast(2)) row.SetAttributeValue("class", "total");
        return Tag("section", Set("aria-labelledby", "volumes"), Tag("h2", Set("id", "volumes"), "Volumes"), table);
    }

    public static XElement Weights(Kit kit, SheetNumbers numbers)
    {
        var metal = kit.Metal;
        return Tag("section", Set("aria-labelledby", "weights"),
            Tag("h2", Set("id", "weights"), "Weights"),
            Table("Metal", ["What", "#Value", "Rule or source"],
            [
                ["Density of the metal", numbers.Figure(metal.Density_kg_m3, "kg/m³"), metal.DensitySource],
                .. kit.CastingCount == 1 ? Array.Empty<object?[]>()
                    : kit.IsMixed ? kit.CastParts.Select(p => new object?[] { $"One {p.Name}, of which there {(p.At_mm.Length == 1 ? "is 1" : $"are {p.At_mm.Length}")}", numbers.Weight(p.Each_kg), "as it comes out of the sand" })
                    : [["One of " + kit.CastingCount + " castings", numbers.Weight(kit.EachCasting_kg), "as it comes out of the sand"]],
                [kit.CastingCount == 1 ? "Raw casting" : "Castings together", numbers.Weight(metal.Casting_kg), "as it comes out of the sand"],
                ["Metal to pour", numbers.Weight(metal.Pour_kg), metal.PourRule],
            ]),
            kit.CastingCount == 1 ? null : Castings(kit, numbers));
    }

    /// <summary>What lies where in a mould of several, and how each is filled.</summary>
    private static XElement Castings(Kit kit, SheetNumbers numbers) => Table(
        kit.IsMixed ? "Castings of the mould, as the plan of the mould numbers them: ingates are as large as the metal that each lets in, so that all are full at about the same time" : "Castings of the mould",
        ["Casting", "Part", "Origin at x, y", "#Weight", "Ingates, from the sprue", "#Full after"],
        CastingLines.Of(kit).Select(c => new object?[]
        {
            c.Name, c.Part.Title.Length > 0 ? c.Part.Title : c.Part.Name, $"{numbers.Length(c.At_mm.X)}, {numbers.Length(c.At_mm.Y)}", numbers.Weight(c.Part.Each_kg),
            c.Ingates.IsEmpty ? "–" : string.Join("; ", c.Ingates.Select(g => $"{SheetNumbers.Whole(g.Number)}: {numbers.Figure(g.Section_mm2, "mm²", 1)}{(g.Share is { } share ? $", {SheetNumbers.Fixed(100 * share, 1)}\u00A0% of the metal" : "")}")),
            c.Full_s is { } full ? numbers.Figure(full, "s", 1) : "–",
        }));
}
