using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Moduli of neck and feeder over that of the section that they feed.</summary>
/// <param name="Neck">Of the neck.</param>
/// <param name="Feeder">Of the feeder.</param>
/// <param name="From">Where they come from.</param>
public sealed record FeedingModuli(double Neck, double Feeder, Provenance From);

/// <summary>How far a feeder feeds along a wall.</summary>
/// <param name="Family">Metals that it holds for; null for all.</param>
/// <param name="UpToRange_C">Widest freezing range that it holds for, liquidus less solidus.</param>
/// <param name="Walls">In thicknesses of the wall.</param>
/// <param name="From">Where it comes from.</param>
public sealed record FeedingDistanceRow(AlloyFamily? Family, double UpToRange_C, double Walls, Provenance From);

/// <summary>What feeders are reckoned with.</summary>
/// <param name="Moduli">Of neck and feeder.</param>
/// <param name="Efficiency_percent">Part of a feeder that it gives up.</param>
/// <param name="Height_diameters">Height of a feeder that counts.</param>
/// <param name="StandsOut">Modulus of a section over that of the usual wall, from which it is fed.</param>
/// <param name="Thick_mm">Sections as thick as this are fed whatever else is there.</param>
/// <param name="Thin_mm">Thinner sections are not fed.</param>
/// <param name="LeastVoid_mm3">Smaller hollows are left.</param>
/// <param name="LongRange_C">Freezing range above which a metal feeds badly.</param>
/// <param name="Margin_mm">Round the foot of a feeder.</param>
/// <param name="Distances">Along walls; the first that fits is taken.</param>
public sealed record FeedingTable(
    FeedingModuli Moduli,
    Quoted Efficiency_percent,
    Quoted Height_diameters,
    Quoted StandsOut,
    Quoted Thick_mm,
    Quoted Thin_mm,
    Quoted LeastVoid_mm3,
    Quoted LongRange_C,
    Quoted Margin_mm,
    ImmutableArray<FeedingDistanceRow> Distances)
{
    /// <summary>How far a feeder feeds in walls of an alloy; null where its freezing range is not known.</summary>
    public FeedingDistanceRow? DistanceOf(Alloy alloy) => alloy.Freezing is not { } f ? null
        // The last row has no limits.
        : Distances.First(r => (r.Family is null || r.Family == alloy.Family) && f.Liquidus_C - f.Solidus_C <= r.UpToRange_C);

    /// <summary>Whether an alloy freezes over so long a range that feeders help little.</summary>
    public bool IsLongRange(Alloy alloy) => alloy.Freezing is { } f && f.Liquidus_C - f.Solidus_C > LongRange_C.Value;

    internal static FeedingTable Read(RowReader file)
    {
        var moduli = file.Row("modulus");
        var table = new FeedingTable(
            new(moduli.Number("neck", 1, 3), moduli.Number("feeder", 1, 3), moduli.Provenance()),
            file.Row("efficiency").Quoted("percent", 5, 90),
            file.Row("height").Quoted("diameters", 0.3, 5),
            file.Row("stands_out").Quoted("times", 1, 5),
            file.Row("thick").Quoted("mm", 1, 1000),
            file.Row("thin").Quoted("mm", 0, 100),
            file.Row("least_void").Quoted("mm3", 0, 1e6),
            file.Row("long_range").Quoted("C", 0, 1000),
            file.Row("margin").Quoted("mm", 0, 20),
            [.. file.Rows("distance").Select(Distance)]);
        moduli.TextOr("printed", "");
        moduli.Finish();
        file.Finish();
        return table;
    }

    private static FeedingDistanceRow Distance(RowReader r)
    {
        var row = new FeedingDistanceRow(
            r.Has("family") ? r.Choice("family", AlloyReader.FamilyWords) : null,
            r.Has("up_to_range_C") ? r.Number("up_to_range_C", 0, 1000) : double.PositiveInfinity,
            r.Number("walls", 0, 50), r.Provenance());
        r.TextOr("printed", "");
        r.Finish();
        return row;
    }
}
