using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A pair of flask halves that the shop owns; inside sizes.</summary>
/// <param name="Name">What the shop calls it.</param>
/// <param name="Length_mm">Inside, the longer or the shorter way.</param>
/// <param name="Width_mm">Inside, across.</param>
/// <param name="Cope_mm">Depth of the upper half.</param>
/// <param name="Drag_mm">Depth of the lower half.</param>
/// <param name="Cope_kg">Weight of the empty upper half; null where it was not given.</param>
/// <param name="From">Where the sizes come from.</param>
public sealed record Flask(string Name, double Length_mm, double Width_mm, double Cope_mm, double Drag_mm, double? Cope_kg, Provenance From)
{
    /// <summary>Sand that fills both halves, mm³.</summary>
    public double Inside_mm3 => Length_mm * Width_mm * (Cope_mm + Drag_mm);

    internal static Flask Read(RowReader row)
    {
        var flask = new Flask(
            row.Text("name"), row.Number("length_mm", 20, 5000), row.Number("width_mm", 20, 5000), row.Number("cope_mm", 10, 2000), row.Number("drag_mm", 10, 2000),
            row.Has("cope_kg") ? row.Number("cope_kg", 0, 2000) : null, row.Provenance());
        row.Finish();
        return flask;
    }
}
