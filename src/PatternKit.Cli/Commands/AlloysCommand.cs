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
        return new(a.Key, a.Title, a.Aliases, rows, a.Hazard);
    }
}
