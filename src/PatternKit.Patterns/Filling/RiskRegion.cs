using PatternKit.Geometry.Grids;

namespace PatternKit.Patterns.Filling;

/// <summary>Cells at risk that hang together.</summary>
/// <param name="Cells">All of them.</param>
/// <param name="Worst">The one with the largest ratio.</param>
/// <param name="Ratios">The largest ratio of each kind.</param>
internal sealed record RiskRegion(int[] Cells, int Worst, FillRatios Ratios)
{
    /// <summary>The regions of a run in which a ratio is above a limit, the worst first.</summary>
    public static RiskRegion[] Of(RisingFlood flood, Func<int, FillRatios> ratios, double limit)
    {
        var grid = flood.Grid;
        var of = new Dictionary<int, FillRatios>();
        foreach (var cell in flood.Order)
            if (ratios(cell) is var r && r.Worst > limit) of.Add(cell, r);
        var seen = new HashSet<int>();
        var regions = new List<RiskRegion>();
        foreach (var first in of.Keys)
        {
            if (!seen.Add(first)) continue;
            List<int> cells = [first];
            for (var i = 0; i < cells.Count; i++)
            {
                for (var axis = 0; axis < 3; axis++)
                {
                    foreach (var next in new[] { cells[i] - grid.Stride(axis), cells[i] + grid.Stride(axis) })
                        if (of.ContainsKey(next) && seen.Add(next)) cells.Add(next);
                }
            }

            regions.Add(new([.. cells], cells.MaxBy(c => of[c].Worst), Largest(cells, c => of[c])));
        }

        return [.. regions.OrderByDescending(r => r.Ratios.Worst)];
    }

    /// <summary>The largest ratio of each kind among some cells.</summary>
    public static FillRatios Largest(IEnumerable<int> cells, Func<int, FillRatios> ratios) => cells.Select(ratios).Aggregate(
        default(FillRatios), (all, r) => new(Math.Max(all.Front, r.Front), Math.Max(all.Choked, r.Choked), Math.Max(all.Head, r.Head)));
}
