using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A value for metals of a family that freeze over no more than a range; the first row that fits is taken.</summary>
/// <param name="Family">Metals that it holds for; null for all.</param>
/// <param name="UpToRange_C">Widest freezing range that it holds for, liquidus less solidus.</param>
/// <param name="Value">The value.</param>
/// <param name="From">Where it comes from.</param>
public sealed record FreezingRow(AlloyFamily? Family, double UpToRange_C, double Value, Provenance From)
{
    /// <summary>The row for an alloy whose freezing range is known.</summary>
    /// <param name="rows">The last has no limits.</param>
    /// <param name="alloy">The alloy.</param>
    /// <param name="freezing">Its range.</param>
    internal static FreezingRow For(ImmutableArray<FreezingRow> rows, Alloy alloy, FreezingRange freezing) =>
        rows.First(r => (r.Family is null || r.Family == alloy.Family) && freezing.Width_C <= r.UpToRange_C);

    /// <summary>Reads rows with their value under a key.</summary>
    internal static ImmutableArray<FreezingRow> Read(RowReader file, string name, string key, double least, double most) =>
    [
        .. file.Rows(name).Select(r =>
        {
            var row = new FreezingRow(
                r.Has("family") ? r.Choice("family", AlloyReader.FamilyWords) : null,
                r.Has("up_to_range_C") ? r.Number("up_to_range_C", 0, 1000) : double.PositiveInfinity,
                r.Number(key, least, most), r.Provenance());
            r.TextOr("printed", "");
            r.Finish();
            return row;
        }),
    ];
}
