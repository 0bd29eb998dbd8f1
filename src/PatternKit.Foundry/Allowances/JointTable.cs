using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Lettering sunk into a parting face.</summary>
/// <param name="Heights_mm">Heights of capitals to try, the largest first.</param>
/// <param name="Depth_mm">How deep.</param>
/// <param name="Cover_mm">Material left above it.</param>
/// <param name="Margin_mm">Kept free to the outline and to holes.</param>
/// <param name="LineStep_heights">From line to line, in heights.</param>
/// <param name="From">Where the figures come from.</param>
public sealed record MarkSizes(
    ImmutableArray<double> Heights_mm, double Depth_mm, double Cover_mm, double Margin_mm, double LineStep_heights, Provenance From);

/// <summary>Slopes of a joint that is carved along the parting line, degrees from the level.</summary>
/// <param name="RunOut_deg">At which it runs out to the level joint of the flask.</param>
/// <param name="Steep_deg">From which it is told.</param>
/// <param name="Most_deg">Above which it is not made.</param>
/// <param name="From">Where the figures come from.</param>
public sealed record CarvedLimits(double RunOut_deg, double Steep_deg, double Most_deg, Provenance From);

/// <summary>Steps of a joint that stands at several heights, degrees from the draw.</summary>
/// <param name="Draft_deg">What they get by rule.</param>
/// <param name="OverWalls_deg">They have so much more than the walls at least.</param>
/// <param name="Rubs_deg">Below which it is told that sand rubs.</param>
/// <param name="From">Where the figures come from.</param>
public sealed record StepLimits(double Draft_deg, double OverWalls_deg, double Rubs_deg, Provenance From);

/// <summary>The parting faces of both halves.</summary>
/// <param name="Ledge_mm">The step between the halves that is let pass.</param>
/// <param name="Mark">Lettering.</param>
/// <param name="Carved">A joint along the parting line.</param>
/// <param name="Stepped">A joint at several heights.</param>
public sealed record JointTable(Quoted Ledge_mm, MarkSizes Mark, CarvedLimits Carved, StepLimits Stepped)
{
    internal static JointTable Read(RowReader file)
    {
        var mark = file.Row("mark");
        var sizes = new MarkSizes(
            mark.Numbers("heights_mm", 1, 100), mark.Number("depth_mm", 0.1, 10), mark.Number("cover_mm", 0, 20), mark.Number("margin_mm", 0, 20),
            mark.Number("line_step_heights", 1, 5), mark.Provenance());
        mark.Finish();
        var carved = file.Row("carved");
        var limits = new CarvedLimits(carved.Number("run_out_deg", 1, 60), carved.Number("steep_deg", 1, 89), carved.Number("most_deg", 1, 80), carved.Provenance());
        carved.Finish();
        var stepped = file.Row("stepped");
        var steps = new StepLimits(stepped.Number("draft_deg", 1, 60), stepped.Number("over_walls_deg", 0.1, 20), stepped.Number("rubs_deg", 0, 60), stepped.Provenance());
        stepped.Finish();
        var table = new JointTable(file.Row("ledge").Quoted("mm", 0, 10), sizes, limits, steps);
        file.Finish();
        return table;
    }
}
