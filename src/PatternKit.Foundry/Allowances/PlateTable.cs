using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Least sand round what stands on a plate.</summary>
/// <param name="UpTo_kg">Greatest weight of the casting; infinite in the last row.</param>
/// <param name="Margin_mm">From the foot to the edge.</param>
public sealed record PlateMarginRow(double UpTo_kg, Quoted Margin_mm);

/// <summary>Pattern plates.</summary>
/// <param name="Half_mm">Thickness of each of two halves that are joined back to back.</param>
/// <param name="Board_mm">Thickness of a plate with patterns on one side.</param>
/// <param name="Margins">By weight, ascending.</param>
/// <param name="Fillet_mm">Where something meets the face.</param>
/// <param name="PinClearance_mm">Hole wider than the flask's pin by this.</param>
/// <param name="PinWall_mm">Material round such a hole.</param>
/// <param name="PinFrom">Where both come from.</param>
public sealed record PlateTable(
    Quoted Half_mm, Quoted Board_mm, ImmutableArray<PlateMarginRow> Margins, Quoted Fillet_mm, double PinClearance_mm, double PinWall_mm, Provenance PinFrom)
{
    /// <summary>The margin for a casting.</summary>
    /// <param name="casting_kg">Its weight.</param>
    public Quoted Margin_mm(double casting_kg) => Margins.First(m => casting_kg <= m.UpTo_kg).Margin_mm;

    internal static PlateTable Read(RowReader file)
    {
        var margins = file.Rows("margin").Select(r => new PlateMarginRow(r.Has("up_to_kg") ? r.Number("up_to_kg", 0.01, 1e4) : double.PositiveInfinity, r.Quoted("mm", 1, 500))).ToImmutableArray();
        if (margins.IsEmpty || !double.IsPositiveInfinity(margins[^1].UpTo_kg) || !margins.Select(m => m.UpTo_kg).SequenceEqual(margins.Select(m => m.UpTo_kg).Distinct().Order()))
            throw file.Error("'up_to_kg' of the margins must grow, and the last row must hold for every weight.");
        var pin = file.Row("pin");
        var table = new PlateTable(
            file.Row("half").Quoted("mm", 2, 50), file.Row("board").Quoted("mm", 2, 100), margins, file.Row("fillet").Quoted("mm", 0, 10),
            pin.Number("clearance_mm", 0, 3), pin.Number("wall_mm", 0, 50), pin.Provenance());
        pin.Finish();
        file.Finish();
        return table;
    }
}
