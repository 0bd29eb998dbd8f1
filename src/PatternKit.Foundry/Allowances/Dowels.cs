using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>One row of the dowel table.</summary>
/// <param name="From_mm">Least width of the body that the row serves.</param>
/// <param name="Diameter_mm">A standard pin diameter.</param>
/// <param name="From">Where it comes from.</param>
public sealed record DowelRow(double From_mm, double Diameter_mm, Provenance From);

/// <summary>Dowel sizes and hole rules.</summary>
/// <param name="Diameters_mm">Standard metal pins, ascending.</param>
/// <param name="Standard">Where the diameters come from.</param>
/// <param name="Choice">Diameter by width of the body, ascending.</param>
/// <param name="Clearance_mm">Added to the diameter of a printed hole.</param>
/// <param name="Depth_diameters">Depth of the hole in each half, in diameters.</param>
/// <param name="LeastDepth_diameters">A shallower hole does not guide.</param>
/// <param name="Cover_mm">Material left above the hole.</param>
public sealed record DowelTable(
    ImmutableArray<double> Diameters_mm,
    Provenance Standard,
    ImmutableArray<DowelRow> Choice,
    Quoted Clearance_mm,
    Quoted Depth_diameters,
    Quoted LeastDepth_diameters,
    Quoted Cover_mm)
{
    internal static DowelTable Read(RowReader file)
    {
        var pins = file.Row("pins");
        var diameters = pins.Numbers("diameters_mm", 0.5, 50);
        var standard = pins.Provenance();
        pins.Finish();
        var table = new DowelTable(
            diameters,
            standard,
            [.. file.Rows("choice").Select(Row)],
            file.Row("clearance").Quoted("mm", 0, 2),
            file.Row("depth").Quoted("diameters", 0.5, 10),
            file.Row("least_depth").Quoted("diameters", 0.5, 10),
            file.Row("cover").Quoted("mm", 0, 20));
        file.Finish();
        return table.Choice.All(c => diameters.Contains(c.Diameter_mm))
            ? table
            : throw file.Error("a dowel choice is not among the standard diameters.");
    }

    private static DowelRow Row(RowReader r)
    {
        var row = new DowelRow(r.Number("from_mm", 1, 1e4), r.Number("diameter_mm", 0.5, 50), r.Provenance());
        r.Finish();
        return row;
    }
}
