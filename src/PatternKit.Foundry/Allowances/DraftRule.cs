using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>What the sand feels of a pattern's skin.</summary>
public enum PatternSkin
{
    /// <summary>As it leaves the printer, layers and all.</summary>
    Printed,

    /// <summary>Printed, sealed and sanded along the draw; layers can still be felt.</summary>
    Sanded,

    /// <summary>Filled and rubbed down like varnished wood.</summary>
    Smoothed,
}

/// <summary>One row of the draft table.</summary>
/// <param name="UpTo_mm">Greatest height of the wall along the draw; infinite in the last row.</param>
/// <param name="Angle_deg">Draft, degrees from the draw, for a smooth (sealed wooden) pattern.</param>
/// <param name="From">Where it comes from.</param>
public sealed record DraftRow(double UpTo_mm, double Angle_deg, Provenance From);

/// <summary>Draft by wall height, for patterns that are moulded by hand.</summary>
/// <param name="Outside">Walls that the sand surrounds, by height.</param>
/// <param name="Inside">Walls of holes and recesses, by height.</param>
/// <param name="Printed_deg">Added for a skin left as printed.</param>
/// <param name="Sanded_deg">Added for a printed skin that is sealed and sanded along the draw.</param>
/// <param name="Smoothed_deg">Added for a skin rubbed down until it is smooth.</param>
/// <param name="Floor_deg">No draft below this.</param>
public sealed record DraftTable(
    ImmutableArray<DraftRow> Outside,
    ImmutableArray<DraftRow> Inside,
    Quoted Printed_deg,
    Quoted Sanded_deg,
    Quoted Smoothed_deg,
    Quoted Floor_deg)
{
    /// <summary>What a skin adds to the draft, degrees.</summary>
    public Quoted Skin_deg(PatternSkin skin) => skin switch
    {
        PatternSkin.Printed => Printed_deg,
        PatternSkin.Sanded => Sanded_deg,
        _ => Smoothed_deg,
    };

    internal static DraftTable Read(RowReader file)
    {
        var skin = file.Row("skin");
        Quoted Skin(string name) => skin.Row(name).Quoted("add_deg", 0, 5);
        var table = new DraftTable(
            Rows(file, "outside"),
            Rows(file, "inside"),
            Skin("printed"),
            Skin("sanded"),
            Skin("smoothed"),
            file.Row("floor").Quoted("deg", 0, 5));
        skin.Finish();
        file.Finish();
        return table;
    }

    private static ImmutableArray<DraftRow> Rows(RowReader file, string key) =>
        SizeRows.Read(file, key, (upTo_mm, r) => new DraftRow(upTo_mm, r.Number("deg", 0, 45), r.Provenance()));
}

/// <summary>The draft to give a wall when the job does not say.</summary>
public static class DraftRule
{
    /// <summary>The skin of a pattern whose job does not say: kits are printed, and the shop sheet asks to seal and sand them.</summary>
    public const PatternSkin UsualSkin = PatternSkin.Sanded;

    /// <summary>Draft for a wall.</summary>
    /// <param name="table">The rows.</param>
    /// <param name="height_mm">Height of the wall along the draw, above 0.</param>
    /// <param name="inside">Whether the wall bounds a hole or recess, whose sand stands alone and breaks more easily.</param>
    /// <param name="skin">The pattern's skin: layer lines hold the sand.</param>
    /// <returns>Radians from the draw direction.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The height is not a positive number.</exception>
    public static Sourced<double> For(DraftTable table, double height_mm, bool inside, PatternSkin skin)
    {
        Checked.Positive(height_mm, nameof(height_mm));
        var rows = inside ? table.Inside : table.Outside;
        var (row, over_mm) = SizeRows.Find(rows, r => r.UpTo_mm, height_mm);
        var added = table.Skin_deg(skin);
        var floored = Math.Max(row.Angle_deg + added.Value, table.Floor_deg.Value);
        var sum = added.Value > 0 ? $" {Shown.Number(row.Angle_deg)} deg + {Shown.Number(added.Value)} deg for {Name(skin)}," : "";
        return new Sourced<double>(
            double.DegreesToRadians(floored),
            added.Value > 0 ? $"{row.From.Text}; layer lines: {added.From.Text}" : row.From.Text,
            $"{Shown.Number(floored)} deg: {(inside ? "inside" : "outside")} wall {Shown.Range_mm(over_mm, row.UpTo_mm)} high,{sum} table draft");
    }

    /// <summary>What a skin adds to the draft of a wall, radians.</summary>
    public static Sourced<double> ForSkin(DraftTable table, PatternSkin skin)
    {
        var added = table.Skin_deg(skin);
        return new(double.DegreesToRadians(added.Value), added.From.Text, $"{Shown.Number(added.Value)} deg for {Name(skin)}");
    }

    private static string Name(PatternSkin skin) => skin switch
    {
        PatternSkin.Printed => "layers left as printed",
        PatternSkin.Sanded => "printed layers sealed and sanded along the draw",
        _ => "a skin rubbed down until it is smooth",
    };

    /// <summary>The least draft that any wall is given, radians.</summary>
    public static Sourced<double> Floor(DraftTable table)
    {
        var floor = table.Floor_deg;
        return new Sourced<double>(double.DegreesToRadians(floor.Value), floor.From.Text, $"{Shown.Number(floor.Value)} deg: least draft, any wall");
    }
}
