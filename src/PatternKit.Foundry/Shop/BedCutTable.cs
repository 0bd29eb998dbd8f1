using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>How bodies larger than the printer's bed are cut into pieces.</summary>
/// <param name="Gap_mm">Between the faces of two pieces.</param>
/// <param name="Dovetail">Sizes of dovetails.</param>
/// <param name="Flare">How far their flanks lean out, mm for each mm of depth.</param>
/// <param name="Place">Where cuts go.</param>
public sealed record BedCutTable(Quoted Gap_mm, DovetailSizes Dovetail, Quoted Flare, CutPlaceRule Place)
{
    internal static BedCutTable Read(RowReader file)
    {
        var (tail, place) = (file.Row("dovetail"), file.Row("place"));
        var table = new BedCutTable(
            file.Row("gap").Quoted("mm", 0, 2),
            new(
                [.. tail.Numbers("necks_mm", 1, 100).OrderDescending()], tail.Number("depth_necks", 0.1, 3), tail.Number("land_mm", 0.5, 50), tail.Number("pitch_mm", 1, 1000),
                tail.Number("least_height_mm", 0.5, 100), tail.Provenance()),
            file.Row("flare").Quoted("per_mm", 0, 1),
            new(place.Number("step_mm", 0.1, 10), place.Number("margin_mm", 0, 50), place.Number("rise_weight", 0, 1000), place.Provenance()));
        tail.Finish();
        place.Finish();
        file.Finish();
        return table;
    }
}

/// <summary>Sizes of dovetails.</summary>
/// <param name="Necks_mm">Widths on the line of the cut, the widest first.</param>
/// <param name="Depth_necks">How far one reaches, in widths of its neck.</param>
/// <param name="Land_mm">Material around it.</param>
/// <param name="Pitch_mm">From one to the next, at least.</param>
/// <param name="LeastHeight_mm">The body is at least so thick where one is.</param>
/// <param name="From">Where the sizes come from.</param>
public sealed record DovetailSizes(ImmutableArray<double> Necks_mm, double Depth_necks, double Land_mm, double Pitch_mm, double LeastHeight_mm, Provenance From)
{
    /// <summary>How far the largest reaches, mm.</summary>
    public double Deepest_mm => Necks_mm[0] * Depth_necks;
}

/// <summary>What counts against a place for a cut.</summary>
/// <param name="Step_mm">Between the lines that are compared.</param>
/// <param name="Margin_mm">On both sides of a line, in which the worst counts.</param>
/// <param name="RiseWeight">A millimetre that its profile rises or falls counts as so many of its length.</param>
/// <param name="From">Where the rule comes from.</param>
public sealed record CutPlaceRule(double Step_mm, double Margin_mm, double RiseWeight, Provenance From);
