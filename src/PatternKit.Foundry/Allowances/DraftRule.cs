using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>One row of the draft table.</summary>
/// <param name="UpTo_mm">Greatest height of the wall along the draw; infinite in the last row.</param>
/// <param name="Angle_deg">Draft, degrees from the draw, for a smooth (sealed wooden) pattern.</param>
/// <param name="From">Where it comes from.</param>
public sealed record DraftRow(double UpTo_mm, double Angle_deg, Provenance From);

/// <summary>Draft by wall height, for patterns that are moulded by hand.</summary>
/// <param name="Outside">Walls that the sand surrounds, by height.</param>
/// <param name="Inside">Walls of holes and recesses, by height.</param>
/// <param name="Printed_deg">Added for walls with printed layer lines.</param>
/// <param name="Floor_deg">No draft below this.</param>
public sealed record DraftTable(
    ImmutableArray<DraftRow> Outside,
    ImmutableArray<DraftRow> Inside,
    Quoted Printed_deg,
    Quoted Floor_deg)
{
    internal static DraftTable Read(RowReader file)
    {
        var table = new DraftTable(
            Rows(file, "outside"),
            Rows(file, "inside"),
            file.Row("printed").Quoted("add_deg", 0, 5),
            file.Row("floor").Quoted("deg", 0, 5));
        file.Finish();
        return table;
    }

    private static ImmutableArray<DraftRow> Rows(RowReader file, string key) =>
        SizeRows.Read(file, key, (upTo_mm, r) => new DraftRow(upTo_mm, r.Number("deg", 0, 45), r.Provenance()));
}

/// <summary>The draft to give a wall when the job does not say.</summary>
public static class DraftRule
{
    /// <summary>Draft for a wall.</summary>
    /// <param name="height_mm">Height of the wall along the draw, above 0.</param>
    /// <param name="inside">Whether the wall bounds a hole or recess, whose sand stands alone and breaks more easily.</param>
    /// <param name="printed">Whether the pattern's skin shows printed layer lines.</param>
    /// <returns>Radians from the draw direction.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The height is not a positive number.</exception>
    public static Sourced<double> For(double height_mm, bool inside, bool printed)
    {
        Checked.Positive(height_mm, nameof(height_mm));
        var table = FoundryTables.Default.Draft;
        var rows = inside ? table.Inside : table.Outside;
        var (row, over_mm) = SizeRows.Find(rows, r => r.UpTo_mm, height_mm);
        var degrees = row.Angle_deg + (printed ? table.Printed_deg.Value : 0);
        var floored = Math.Max(degrees, table.Floor_deg.Value);
        var skin = printed ? $" {Shown.Number(row.Angle_deg)} deg + {Shown.Number(table.Printed_deg.Value)} deg for printed layer lines," : "";
        return new Sourced<double>(
            double.DegreesToRadians(floored),
            printed ? $"{row.From.Text}; layer lines: {table.Printed_deg.From.Text}" : row.From.Text,
            $"{Shown.Number(floored)} deg: {(inside ? "inside" : "outside")} wall {Shown.Range_mm(over_mm, row.UpTo_mm)} high,{skin} table draft");
    }

    /// <summary>The least draft that any wall is given, radians.</summary>
    public static Sourced<double> Floor()
    {
        var floor = FoundryTables.Default.Draft.Floor_deg;
        return new Sourced<double>(double.DegreesToRadians(floor.Value), floor.From.Text, $"{Shown.Number(floor.Value)} deg: least draft, any wall");
    }
}
