using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>One row of the rapping table.</summary>
/// <param name="UpTo_mm">Largest plan size of the pattern; infinite in the last row.</param>
/// <param name="Growth_mm">How much the cavity grows, each side.</param>
/// <param name="From">Where it comes from.</param>
public sealed record RappingRow(double UpTo_mm, double Growth_mm, Provenance From);

/// <summary>How much a pattern that is rapped loose by hand widens its cavity.</summary>
public static class Rapping
{
    /// <summary>Growth of the cavity on each side, in the parting plane; the pattern is made smaller by it.</summary>
    /// <param name="table">The rows.</param>
    /// <param name="largestPlan_mm">Largest size of the pattern across the draw.</param>
    /// <returns>Millimetres a side; use 0 for a plate that is vibrated.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The size is not a positive number.</exception>
    public static Sourced<double> For(ImmutableArray<RappingRow> table, double largestPlan_mm)
    {
        Checked.Positive(largestPlan_mm, nameof(largestPlan_mm));
        var (row, over_mm) = SizeRows.Find(table, r => r.UpTo_mm, largestPlan_mm);
        return new Sourced<double>(
            row.Growth_mm,
            row.From.Text,
            $"{Shown.Number(row.Growth_mm)} mm a side off the pattern: rapped by hand, plan size {Shown.Range_mm(over_mm, row.UpTo_mm)}");
    }

    internal static ImmutableArray<RappingRow> Read(RowReader file)
    {
        var rows = SizeRows.Read(file, "rapping", (upTo_mm, r) => new RappingRow(upTo_mm, r.Number("growth_mm", 0, 3), r.Provenance()));
        file.Finish();
        return rows;
    }
}
