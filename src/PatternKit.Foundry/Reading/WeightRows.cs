using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A length by the weight of the casting.</summary>
/// <param name="UpTo_kg">Heaviest casting; infinite in the last row.</param>
/// <param name="Length_mm">The length.</param>
/// <param name="From">Where it comes from.</param>
public sealed record WeightRow(double UpTo_kg, double Length_mm, Provenance From);

/// <summary>Tables of lengths by weight: each row holds for castings over the row before, up to its own limit.</summary>
internal static class WeightRows
{
    /// <summary>Heaviest casting that a table knows, kg.</summary>
    public const double Heaviest_kg = 1e5;

    /// <summary>Reads rows with an <c>up_to_kg</c>; the last has none and holds for everything heavier.</summary>
    public static ImmutableArray<WeightRow> Read(RowReader file, string key) =>
        [.. file.Rows(key).Select(r =>
        {
            var row = new WeightRow(r.Has("up_to_kg") ? r.Number("up_to_kg", 0.001, Heaviest_kg) : double.PositiveInfinity, r.Number("mm", 1, 1000), r.Provenance());
            r.Finish();
            return row;
        })];

    /// <summary>The length for a casting.</summary>
    /// <param name="rows">The table.</param>
    /// <param name="casting_kg">Its weight.</param>
    /// <param name="what">What the length is of, for the rule: "sand above the casting".</param>
    public static Sourced<double> For(ImmutableArray<WeightRow> rows, double casting_kg, string what)
    {
        var row = rows.First(r => casting_kg <= r.UpTo_kg);
        return new(row.Length_mm, row.From.Text, $"{Shown.Number(row.Length_mm)} mm of {what}");
    }
}
