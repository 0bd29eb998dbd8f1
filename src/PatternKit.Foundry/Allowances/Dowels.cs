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

/// <summary>Dowels for a split pattern.</summary>
/// <param name="Diameter_mm">Of the metal pin.</param>
/// <param name="Clearance_mm">The printed hole is wider than the pin by this, on the diameter.</param>
/// <param name="Depth_mm">Of the hole in each half.</param>
/// <param name="Source">Where the figures come from.</param>
/// <param name="Rule">What was applied.</param>
public sealed record DowelChoice(double Diameter_mm, double Clearance_mm, double Depth_mm, string Source, string Rule);

/// <summary>Chooses register dowels by the size of the body that they stand in.</summary>
public static class Dowels
{
    /// <summary>The dowel for a body, or null where none fits: too narrow, or too low for a hole that guides.</summary>
    /// <param name="smallestSide_mm">Least width of the body's footprint where the dowels stand.</param>
    /// <param name="height_mm">Height of the lower of the two halves.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not a positive number.</exception>
    public static DowelChoice? For(double smallestSide_mm, double height_mm)
    {
        Checked.Positive(smallestSide_mm, nameof(smallestSide_mm));
        Checked.Positive(height_mm, nameof(height_mm));
        var table = FoundryTables.Default.Dowels;
        var room_mm = height_mm - table.Cover_mm.Value;
        var row = table.Choice.LastOrDefault(c =>
            smallestSide_mm >= c.From_mm && room_mm >= table.LeastDepth_diameters.Value * c.Diameter_mm);
        if (row is null)
            return null;
        var depth_mm = Math.Min(table.Depth_diameters.Value * row.Diameter_mm, room_mm);
        return new DowelChoice(
            row.Diameter_mm,
            table.Clearance_mm.Value,
            depth_mm,
            $"diameters: {table.Standard.Text}; choice, clearance and depth: {row.From.Text}",
            $"{Shown.Number(row.Diameter_mm)} mm pin: body at least {Shown.Number(row.From_mm)} mm wide; hole {Shown.Number(table.Clearance_mm.Value)} mm wider, {Shown.Number(depth_mm)} mm deep (at most {Shown.Number(table.Depth_diameters.Value)} diameters, at least {Shown.Number(table.Cover_mm.Value)} mm left above)");
    }
}
