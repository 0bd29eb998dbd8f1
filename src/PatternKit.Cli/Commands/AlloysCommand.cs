using System.CommandLine;
using PatternKit.Cli.Output;
using PatternKit.Foundry;

namespace PatternKit.Cli.Commands;

/// <summary><c>alloys</c>: the table of metals, every value with its source.</summary>
internal static class AlloysCommand
{
    public static Command Create(Terminal terminal) => TableCommand.Create(
        terminal, "alloys", "Lists the alloys that a job can name, every value with its source.", t => t.Alloys.Select(Rows));

    private static ValueRows Rows(Alloy a)
    {
        var rows = new List<ValueRow>();
        foreach (var c in a.Contraction)
            rows.Add(new("contraction_percent", double.IsPositiveInfinity(c.UpTo_mm) ? "contraction" : $"contraction up to {FindingText.Number(c.UpTo_mm)} mm", c.Fraction * 100, "% of the casting", c.Printed, c.From, c.UpTo_mm));
        rows.Add(ValueRow.Of("density_kg_m3", "density", "kg/m³", a.Density_kg_m3));
        if (a.LiquidDensity_kg_m3 is { } liquid) rows.Add(ValueRow.Of("liquid_density_kg_m3", "density of the liquid", "kg/m³", liquid));
        if (a.Freezing is { } f)
        {
            rows.Add(new("liquidus_C", "liquidus", f.Liquidus_C, "°C", "", f.From));
            rows.Add(new("solidus_C", "solidus", f.Solidus_C, "°C", "", f.From));
        }

        if (a.MinimumSection_mm is { } m) rows.Add(ValueRow.Of("minimum_section_mm", "thinnest section", "mm", m));
        Add("latent_heat_kJ_kg", "latent heat", "kJ/kg", a.Heat.Latent_kJ_kg);
        Add("specific_heat_J_kgK", "specific heat", "J/kgK", a.Heat.SpecificHeat_J_kgK);
        Add("liquid_specific_heat_J_kgK", "specific heat, liquid", "J/kgK", a.Heat.LiquidSpecificHeat_J_kgK);
        Add("conductivity_W_mK", "conductivity", "W/mK", a.Heat.Conductivity_W_mK);
        Add("freezing_shrinkage_percent", "shrinks on freezing", "%", a.Heat.FreezingShrinkage_percent);
        Add("surface_tension_N_m", "surface tension", "N/m", a.Heat.SurfaceTension_N_m);
        if (a.Heat.Pouring is { } p)
        {
            rows.Add(new("pour_thin_low_C", "poured, thin walls, from", p.ThinLow_C, "°C", "", p.From));
            rows.Add(new("pour_thin_high_C", "to", p.ThinHigh_C, "°C", "", p.From));
            rows.Add(new("pour_thick_low_C", "poured, thick walls, from", p.ThickLow_C, "°C", "", p.From));
            rows.Add(new("pour_thick_high_C", "to", p.ThickHigh_C, "°C", "", p.From));
        }

        return new(a.Key, a.Title, a.Aliases, rows, a.Hazard);

        void Add(string key, string label, string unit, Quoted? value)
        {
            if (value is not null) rows.Add(ValueRow.Of(key, label, unit, value));
        }
    }
}
