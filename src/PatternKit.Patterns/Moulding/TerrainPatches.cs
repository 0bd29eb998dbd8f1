using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Moulding;

/// <summary>Changes of a terrain before draft, in patches of the plan that either half asks for.</summary>
internal static class TerrainPatches
{
    /// <summary>The terrain cut along the patches and put together anew.</summary>
    /// <param name="map">The terrain.</param>
    /// <param name="cope">What the half above asks for.</param>
    /// <param name="drag">What the half below asks for.</param>
    /// <param name="region">Where a patch lies.</param>
    /// <param name="kind">What stands on a piece of the plan: by the cell that it was part of, and the patches of either half that it lies in.</param>
    /// <param name="step">Of the lattice, mm.</param>
    public static TerrainMap Cut<T>(
        TerrainMap map, IReadOnlyList<T> cope, IReadOnlyList<T> drag, Func<T, PlanRegion> region, Func<TerrainCell?, T[], T[], TerrainKind?> kind, double step)
    {
        var (cells, both) = (map.Cells, cope.Count + map.Cells.Length);
        var faces = PlanPartition.Overlay([.. cells.Select(c => c.Region), .. cope.Select(region), .. drag.Select(region)], step);
        return TerrainMap.Joined([.. faces.Select(f => f.Region)], faces.Select(f => kind(
            f.Members.Where(m => m < cells.Length).Select(m => cells[m]).FirstOrDefault(),
            [.. f.Members.Where(m => m >= cells.Length && m < both).Select(m => cope[m - cells.Length])],
            [.. f.Members.Where(m => m >= both).Select(m => drag[m - both])])), map.Base);
    }
}
