using System.Collections.Immutable;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>What is sunk upright into the joint face of a half.</summary>
internal static class JointPockets
{
    /// <summary>The hole of a dowel in plan.</summary>
    public static PlanRegion HoleOf(Dowel d) => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.005);

    /// <summary>The holes of dowels in plan.</summary>
    public static PlanRegion HolesOf(ImmutableArray<Dowel> dowels) => PlanRegion.Union(dowels.Select(HoleOf));

    /// <summary>Every pocket of a half; no two of them have a place in common. Holes in a seat are taken out of it.</summary>
    public static ImmutableArray<UprightPocket> Of(ImmutableArray<Dowel> dowels, Handling? handling, PartingMark? mark) =>
    [
        .. dowels.Select(d => new UprightPocket(HoleOf(d), d.Depth_mm)),
        .. handling?.Screws.Select(s => new UprightPocket(s.Region, s.Depth_mm)) ?? [],
        .. handling?.Seats.Select(s => new UprightPocket(s.Region.Difference(PlanRegion.Union(handling.Screws.Select(h => h.Region))), s.Depth_mm)) ?? [],
        .. mark is null ? ImmutableArray<UprightPocket>.Empty : [new UprightPocket(mark.Region, mark.Depth_mm)],
    ];
}
