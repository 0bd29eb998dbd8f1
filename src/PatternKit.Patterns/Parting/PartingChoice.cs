using System.Collections.Immutable;
using PatternKit.Geometry.Columns;

namespace PatternKit.Patterns.Parting;

/// <summary>A height that was looked at for the joint.</summary>
/// <param name="Height_mm">Job z, unscaled.</param>
/// <param name="Added_mm3">Metal added, pattern size.</param>
/// <param name="Sand_mm3">Sand that stands above the joint or hangs below it inside the casting.</param>
/// <param name="EmptyHalf">Whether all metal is on one side.</param>
/// <param name="Face_mm2">Area of the planar faces at this height.</param>
public sealed record PartingAlternative(double Height_mm, double Added_mm3, double Sand_mm3, bool EmptyHalf, double Face_mm2);

/// <summary>Where the casting parts, and why.</summary>
/// <param name="Height_mm">Height of the joint in job z, unscaled.</param>
/// <param name="PatternHeight_mm">The same in pattern millimetres, on the lattice of the casting.</param>
/// <param name="Low_mm">Lower end of the heights around it that cost the same, job z.</param>
/// <param name="High_mm">Upper end.</param>
/// <param name="Added_mm3">Metal added by this height, pattern size; trapped gaps, which any height has, not counted.</param>
/// <param name="Trapped_mm3">Volume of the trapped gaps, filled first.</param>
/// <param name="Alternatives">The heights of all planar faces, ascending, with their costs.</param>
/// <param name="Reason">Why this height, for people.</param>
/// <param name="Map">The casting with its trapped gaps filled, pattern millimetres.</param>
/// <param name="Findings">The trapped gaps.</param>
public sealed record PartingChoice(
    double Height_mm,
    double PatternHeight_mm,
    double Low_mm,
    double High_mm,
    double Added_mm3,
    double Trapped_mm3,
    ImmutableArray<PartingAlternative> Alternatives,
    string Reason,
    ColumnMap Map,
    ImmutableArray<Finding> Findings);
