using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Bodies on which sand, skin and taper are tried before the pattern is printed.</summary>
/// <param name="DraftTimes">Drafts that are tried, as times of those of the pattern.</param>
/// <param name="DraftFrom">Where these come from.</param>
/// <param name="LeastWalls_mm">Height of walls, at least.</param>
/// <param name="MostWalls_mm">At most.</param>
/// <param name="WallsFrom">Where both come from.</param>
/// <param name="Plate_mm">Thickness of the plate below, and its rim.</param>
/// <param name="Rib_mm">Thickness of the rib.</param>
/// <param name="Land_mm">Body around a pocket.</param>
/// <param name="Beyond_times">How slender the second pocket is, times the limit of the sand.</param>
/// <param name="Gap_times">Width of the gap beside the rib, times the least by the limit of the sand.</param>
/// <param name="Figures_mm">Height of the figures.</param>
/// <param name="Raised_mm">How far they stand out.</param>
/// <param name="FiguresFrom">Where both come from.</param>
public sealed record CouponTable(
    ImmutableArray<double> DraftTimes,
    Provenance DraftFrom,
    double LeastWalls_mm,
    double MostWalls_mm,
    Provenance WallsFrom,
    Quoted Plate_mm,
    Quoted Rib_mm,
    Quoted Land_mm,
    Quoted Beyond_times,
    Quoted Gap_times,
    double Figures_mm,
    double Raised_mm,
    Provenance FiguresFrom)
{
    internal static CouponTable Read(RowReader file)
    {
        var (draft, walls, figures) = (file.Row("draft"), file.Row("walls"), file.Row("figures"));
        var table = new CouponTable(
            draft.Numbers("times", 0.1, 10), draft.Provenance(), walls.Number("least_mm", 3, 100), walls.Number("most_mm", 3, 100), walls.Provenance(),
            file.Row("plate").Quoted("mm", 1, 20), file.Row("rib").Quoted("mm", 1, 20), file.Row("land").Quoted("mm", 1, 50),
            file.Row("beyond").Quoted("times", 1, 5), file.Row("gap").Quoted("times", 1, 5), figures.Number("height_mm", 2, 30), figures.Number("raised_mm", 0.2, 3), figures.Provenance());
        foreach (var row in new[] { draft, walls, figures }) row.Finish();
        file.Finish();
        return table;
    }
}
