using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>The nest of a follow board.</summary>
/// <param name="Clearance_mm">Round the half that lies in it.</param>
/// <param name="Floor_mm">Least thickness of the board.</param>
public sealed record NestSizes(Quoted Clearance_mm, Quoted Floor_mm);

/// <summary>Pattern plates.</summary>
/// <param name="Half_mm">Thickness of each of two halves that are joined back to back.</param>
/// <param name="Board_mm">Thickness of a plate with patterns on one side.</param>
/// <param name="Margins">Least sand from the foot of what stands there to the edge, by weight.</param>
/// <param name="Fillet_mm">Where something meets the face.</param>
/// <param name="PinClearance_mm">Hole wider than the flask's pin by this.</param>
/// <param name="PinWall_mm">Material round such a hole.</param>
/// <param name="PinFrom">Where both come from.</param>
/// <param name="Nest">Of a follow board.</param>
public sealed record PlateTable(
    Quoted Half_mm, Quoted Board_mm, ImmutableArray<WeightRow> Margins, Quoted Fillet_mm, double PinClearance_mm, double PinWall_mm, Provenance PinFrom, NestSizes Nest)
{
    /// <summary>The margin for a casting.</summary>
    /// <param name="casting_kg">Its weight.</param>
    public Sourced<double> Margin_mm(double casting_kg) => WeightRows.For(Margins, casting_kg, "sand round pattern and bars");

    internal static PlateTable Read(RowReader file)
    {
        var (pin, nest) = (file.Row("pin"), file.Row("nest"));
        var table = new PlateTable(
            file.Row("half").Quoted("mm", 2, 50), file.Row("board").Quoted("mm", 2, 100), WeightRows.Read(file, "margin"), file.Row("fillet").Quoted("mm", 0, 10),
            pin.Number("clearance_mm", 0, 3), pin.Number("wall_mm", 0, 50), pin.Provenance(),
            new(nest.Row("clearance").Quoted("mm", 0, 3), nest.Row("floor").Quoted("mm", 1, 50)));
        pin.Finish();
        nest.Finish();
        file.Finish();
        return table;
    }
}
