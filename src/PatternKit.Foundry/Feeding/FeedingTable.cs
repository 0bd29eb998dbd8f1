using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Moduli of neck and feeder over that of the section that they feed.</summary>
/// <param name="Neck">Of the neck.</param>
/// <param name="Feeder">Of the feeder.</param>
/// <param name="From">Where they come from.</param>
public sealed record FeedingModuli(double Neck, double Feeder, Provenance From);

/// <summary>What feeders are reckoned with.</summary>
/// <param name="Moduli">Of neck and feeder.</param>
/// <param name="Efficiency_percent">Part of a feeder that it gives up.</param>
/// <param name="Height_diameters">Height of a feeder that counts.</param>
/// <param name="StandsOut">Modulus of a section over that of the walls that it borders, from which it is fed.</param>
/// <param name="BesideShare">Walls beside a section count from this share of its volume.</param>
/// <param name="OtherWall">Metal that is this many times thinner than a section is no longer of it.</param>
/// <param name="Thick_mm">Sections as thick as this are fed whatever else is there.</param>
/// <param name="Thin_mm">Thinner sections are not fed.</param>
/// <param name="LeastVoid_mm3">Smaller hollows are left.</param>
/// <param name="LongRange_C">Freezing range above which a metal feeds badly.</param>
/// <param name="MostFeeders">Most feeders on one section of such a metal.</param>
/// <param name="Margin_mm">Round the foot of a feeder.</param>
/// <param name="EndChill_mm">How much farther a feeder feeds where a chill lies at the end of the wall.</param>
/// <param name="Chill">Pieces of iron against a section.</param>
/// <param name="TaperStep">By how many times a wall that tapers gets thicker over each feeding distance.</param>
/// <param name="Distances">How far a feeder feeds along a wall, in thicknesses of it.</param>
public sealed record FeedingTable(
    FeedingModuli Moduli,
    Quoted Efficiency_percent,
    Quoted Height_diameters,
    Quoted StandsOut,
    Quoted BesideShare,
    Quoted OtherWall,
    Quoted Thick_mm,
    Quoted Thin_mm,
    Quoted LeastVoid_mm3,
    Quoted LongRange_C,
    Quoted MostFeeders,
    Quoted Margin_mm,
    Quoted EndChill_mm,
    ChillRow Chill,
    Quoted TaperStep,
    ImmutableArray<FreezingRow> Distances)
{
    /// <summary>How far a feeder feeds in walls of an alloy; null where its freezing range is not known.</summary>
    public FreezingRow? DistanceOf(Alloy alloy) => alloy.Freezing is { } freezing ? FreezingRow.For(Distances, alloy, freezing) : null;

    /// <summary>Whether an alloy freezes over so long a range that feeders help little.</summary>
    public bool IsLongRange(Alloy alloy) => alloy.Freezing?.Width_C > LongRange_C.Value;

    internal static FeedingTable Read(RowReader file)
    {
        var moduli = file.Row("modulus");
        var table = new FeedingTable(
            new(moduli.Number("neck", 1, 3), moduli.Number("feeder", 1, 3), moduli.Provenance()),
            file.Row("efficiency").Quoted("percent", 5, 90),
            file.Row("height").Quoted("diameters", 0.3, 5),
            file.Row("stands_out").Quoted("times", 1, 5),
            file.Row("beside").Quoted("share", 0, 1),
            file.Row("other_wall").Quoted("times", 1, 10),
            file.Row("thick").Quoted("mm", 1, 1000),
            file.Row("thin").Quoted("mm", 0, 100),
            file.Row("least_void").Quoted("mm3", 0, 1e6),
            file.Row("long_range").Quoted("C", 0, 1000),
            file.Row("several").Quoted("most", 1, 50),
            file.Row("margin").Quoted("mm", 0, 20),
            file.Row("end_chill").Quoted("mm", 0, 500),
            ChillOf(file.Row("chill"), file.Row("least_chill").Quoted("mm", 0, 100)),
            file.Row("taper_step").Quoted("times", 1, 3),
            FreezingRow.Read(file, "distance", "walls", 0, 50));
        moduli.TextOr("printed", "");
        moduli.Finish();
        file.Finish();
        return table;
    }

    private static ChillRow ChillOf(RowReader r, Quoted least_mm)
    {
        var chill = new ChillRow(r.Number("heat_J_kgK", 50, 5000), r.Number("rise_C", 10, 1500), r.Number("density_kg_m3", 500, 20000), least_mm, r.Provenance());
        r.Finish();
        return chill;
    }
}
