namespace PatternKit.Foundry.Reading;

/// <summary>Turns a row of a sand table into a <see cref="Sand"/>, or changes a known one by a shop's row.</summary>
internal static class SandReader
{
    internal static readonly Dictionary<string, SandBond> BondWords = new(StringComparer.Ordinal)
    {
        ["clay"] = SandBond.Clay,
        ["chemical"] = SandBond.Chemical,
    };

    /// <summary>A bond as tables and reports write it.</summary>
    internal static string Word(SandBond bond) => bond == SandBond.Clay ? "clay" : "chemically";

    /// <param name="key">The row's key.</param>
    /// <param name="row">The row.</param>
    /// <param name="known">The sand of that key so far: fields left out keep its values. Null for a new sand.</param>
    public static Sand Read(string key, RowReader row, Sand? known)
    {
        var sand = new Sand(
            key,
            known is null ? row.TextOr("title", key) : row.TextOr("title", known.Title),
            known is not null && !row.Has("bond") ? known.Bond : row.Choice("bond", BondWords),
            Column(row, "density", "kg_m3", 500, 5000, known?.Density_kg_m3),
            Column(row, "conductivity", "W_mK", 0.05, 50, known?.Conductivity_W_mK),
            Column(row, "specific_heat", "J_kgK", 100, 5000, known?.SpecificHeat_J_kgK),
            Column(row, "standing_limit", "times_width", 0.05, 20, known?.StandingLimit),
            Column(row, "hanging_limit", "times_width", 0.05, 20, known?.HangingLimit),
            row.Has("strength") ? row.Row("strength").Quoted("kPa", 1, 1e5) : known?.Strength_kPa);
        row.Finish();
        return sand;
    }

    private static Quoted Column(RowReader row, string name, string unit, double low, double high, Quoted? known) =>
        known is not null && !row.Has(name) ? known : row.Row(name).Quoted(unit, low, high);
}
