using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>How near sizes come out in a small shop.</summary>
/// <param name="Usual_mm">Half width, the same for all sizes.</param>
/// <param name="Usual_percent">Half width on top, of the size.</param>
/// <param name="UsualFrom">Where both come from.</param>
/// <param name="LeastCastings">Fewer measured castings are not fitted.</param>
/// <param name="Deviations">Half width of a fitted spread, in standard deviations.</param>
/// <param name="FitFrom">Where both come from.</param>
public sealed record SpreadTable(double Usual_mm, double Usual_percent, Provenance UsualFrom, int LeastCastings, double Deviations, Provenance FitFrom)
{
    internal static SpreadTable Read(RowReader file)
    {
        var (usual, fit) = (file.Row("usual"), file.Row("fit"));
        var table = new SpreadTable(
            usual.Number("mm", 0, 10), usual.Number("percent", 0, 5), usual.Provenance(), fit.Whole("least", 3, 1000), fit.Number("deviations", 0.5, 5), fit.Provenance());
        usual.Finish();
        fit.Finish();
        file.Finish();
        return table;
    }

    /// <summary>[spread] of a shop file.</summary>
    internal SpreadTable With(RowReader row)
    {
        var table = this with
        {
            Usual_mm = row.Has("mm") ? row.Number("mm", 0, 10) : Usual_mm,
            Usual_percent = row.Has("percent") ? row.Number("percent", 0, 5) : Usual_percent,
            UsualFrom = row.Provenance(),
        };
        row.Finish();
        return table;
    }

    /// <summary>Half width of the spread of a size, mm: of the shop's own castings where enough of them were measured, else the usual one.</summary>
    /// <param name="size_mm">The size as cast.</param>
    /// <param name="fit">Of the shop's castings of this alloy in this sand; null where they are too few.</param>
    public Sourced<double> For(double size_mm, ContractionFit? fit) => fit is null
        ? new(Usual_mm + (Usual_percent / 100 * size_mm), UsualFrom.Text, $"{Shown.Number(Usual_mm)} mm and {Shown.Number(Usual_percent)} % of the size either way")
        : new(Deviations * fit.Deviation_mm, ContractionFit.Source, $"{Shown.Number(Deviations)} standard deviations of {fit.Text}");
}
