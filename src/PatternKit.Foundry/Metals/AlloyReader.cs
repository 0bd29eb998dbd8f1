using System.Collections.Immutable;

namespace PatternKit.Foundry.Reading;

/// <summary>Turns a row of an alloy table into an <see cref="Alloy"/>, or changes a known one by a shop's row.</summary>
internal static class AlloyReader
{
    internal static readonly Dictionary<string, AlloyFamily> FamilyWords = new(StringComparer.Ordinal)
    {
        ["aluminium"] = AlloyFamily.Aluminium,
        ["magnesium"] = AlloyFamily.Magnesium,
        ["copper"] = AlloyFamily.Copper,
        ["iron"] = AlloyFamily.Iron,
        ["steel"] = AlloyFamily.Steel,
        ["zinc"] = AlloyFamily.Zinc,
        ["white metal"] = AlloyFamily.WhiteMetal,
    };

    /// <summary>A family as tables and reports write it.</summary>
    internal static string Word(AlloyFamily family) => FamilyWords.First(w => w.Value == family).Key;

    private static readonly Dictionary<string, ContractionBase> BaseWords = new(StringComparer.Ordinal)
    {
        ["casting"] = ContractionBase.Casting,
        ["pattern"] = ContractionBase.Pattern,
    };

    /// <param name="key">The row's key.</param>
    /// <param name="row">The row.</param>
    /// <param name="known">The alloy of that key so far: fields left out keep its values. Null for a new alloy.</param>
    public static Alloy Read(string key, RowReader row, Alloy? known)
    {
        var alloy = new Alloy(
            key,
            known is null ? row.TextOr("title", key) : row.TextOr("title", known.Title),
            known is not null && !row.Has("family") ? known.Family : row.Choice("family", FamilyWords),
            known is not null && !row.Has("aliases") ? known.Aliases : row.TextsOrNone("aliases"),
            known is not null && !row.Has("contraction") ? known.Contraction : ContractionRows(row),
            known is not null && !row.Has("density") ? known.Density_kg_m3 : row.Row("density").Quoted("kg_m3", 500, 25000),
            row.Has("liquid_density") ? row.Row("liquid_density").Quoted("kg_m3", 500, 25000) : known?.LiquidDensity_kg_m3,
            row.Has("freezing") ? Freezing(row.Row("freezing")) : known?.Freezing,
            row.Has("minimum_section") ? row.Row("minimum_section").Quoted("mm", 0.1, 100) : known?.MinimumSection_mm,
            row.Has("hazard") ? HazardOf(row.Row("hazard")) : known?.Hazard,
            known is not null && !row.Has("cautions") ? known.Cautions : row.TextsOrNone("cautions"))
        {
            Heat = HeatOf(row, known?.Heat ?? new()),
        };
        row.Finish();
        if (known is { Hazardous: true } && !alloy.Hazardous)
            throw row.Error("the hazard of a known alloy cannot be switched off in a table; acknowledge it in the job.");
        return alloy;
    }

    private static ImmutableArray<ContractionRow> ContractionRows(RowReader row) =>
        SizeRows.Read(row, "contraction", (upTo_mm, r) =>
        {
            var published = r.Choice("of", BaseWords);
            var given = r.Number("percent", 0, 10) / 100;
            var fraction = published == ContractionBase.Pattern ? Contraction.FromPatternFraction(given) : given;
            return new ContractionRow(upTo_mm, fraction, published, r.TextOr("printed", Shown.Percent(given)), r.Provenance());
        });

    private static AlloyHeat HeatOf(RowReader row, AlloyHeat known)
    {
        Quoted? Own(string name, string unit, double low, double high, Quoted? kept) => row.Has(name) ? row.Row(name).Quoted(unit, low, high) : kept;
        return new(
            Own("latent_heat", "kJ_kg", 1, 2000, known.Latent_kJ_kg),
            Own("specific_heat", "J_kgK", 50, 5000, known.SpecificHeat_J_kgK),
            Own("liquid_specific_heat", "J_kgK", 50, 5000, known.LiquidSpecificHeat_J_kgK),
            Own("conductivity", "W_mK", 1, 1000, known.Conductivity_W_mK),
            Own("freezing_shrinkage", "percent", -10, 15, known.FreezingShrinkage_percent),
            Own("surface_tension", "N_m", 0.05, 5, known.SurfaceTension_N_m),
            row.Has("pouring") ? Pouring(row.Row("pouring")) : known.Pouring);
    }

    private static PouringRange Pouring(RowReader row)
    {
        var (thin, thick) = (row.Numbers("thin_C", 0, 4000), row.Numbers("thick_C", 0, 4000));
        if (thin.Length != 2 || thick.Length != 2 || thin[0] > thin[1] || thick[0] > thick[1]) throw row.Error("'thin_C' and 'thick_C' must each be two temperatures, the lower first.");
        var range = new PouringRange(thin[0], thin[1], thick[0], thick[1], row.Provenance());
        row.Finish();
        return range;
    }

    private static Hazard HazardOf(RowReader row)
    {
        var hazard = new Hazard(row.Text("text"), row.FlagOr("must_acknowledge", false), row.Provenance());
        row.Finish();
        return hazard;
    }

    private static FreezingRange Freezing(RowReader row)
    {
        var range = new FreezingRange(row.Number("liquidus_C", 0, 4000), row.Number("solidus_C", 0, 4000), row.Provenance());
        row.Finish();
        return range.Solidus_C <= range.Liquidus_C ? range : throw row.Error("the solidus is above the liquidus.");
    }
}
