using System.Collections.Immutable;

namespace PatternKit.Geometry.Grids;

/// <summary>
/// A body filled from some of its cells as by a liquid that finds its level: always the lowest cell that it can reach is next, and on one level the one with the shortest
/// way (priority flood, Barnes, Lehman and Mulla 2014; shortest paths within a level, Dijkstra 1959). Ways go along the axes, and across corners within a level.
/// </summary>
public sealed class RisingFlood
{
    private readonly int[] parents;
    private readonly float[] ways;

    private RisingFlood(SolidGrid grid, int[] parents, float[] ways) => (Grid, this.parents, this.ways) = (grid, parents, ways);

    /// <summary>The body.</summary>
    public SolidGrid Grid { get; }

    /// <summary>The cells that are reached, in the order in which they fill.</summary>
    public required ImmutableArray<int> Order { get; init; }

    /// <summary>The cell that a cell is reached from; −1 for one that the liquid enters by.</summary>
    public int Parent(int cell) => parents[cell];

    /// <summary>Length of the way to a cell, mm.</summary>
    public double Way_mm(int cell) => ways[cell] * Grid.Cell_mm;

    /// <summary>Fills a body.</summary>
    /// <param name="grid">The body.</param>
    /// <param name="from">Solid cells.</param>
    public static RisingFlood Of(SolidGrid grid, IEnumerable<int> from)
    {
        var order = ImmutableArray.CreateBuilder<int>(grid.SolidCount);
        var (parents, ways) = (new int[grid.Count], new float[grid.Count]);
        Array.Fill(ways, float.PositiveInfinity);
        Array.Fill(parents, -1);
        var filled = new bool[grid.Count];
        var next = new PriorityQueue<int, (int Level, float Way, int Cell)>();
        var (rows, layer) = (grid.Stride(1), grid.Stride(2));
        (int By, float Length)[] steps =
        [
            (-layer, 1), (layer, 1), (-1, 1), (1, 1), (-rows, 1), (rows, 1),
            (-rows - 1, MathF.Sqrt(2)), (-rows + 1, MathF.Sqrt(2)), (rows - 1, MathF.Sqrt(2)), (rows + 1, MathF.Sqrt(2)),
        ];
        foreach (var cell in from)
        {
            ways[cell] = 0;
            next.Enqueue(cell, (cell / layer, 0, cell));
        }

        while (next.TryDequeue(out var cell, out _))
        {
            if (filled[cell]) continue;
            filled[cell] = true;
            order.Add(cell);
            foreach (var (by, length) in steps)
            {
                var other = cell + by;
                if (!grid.IsSolid(other) || filled[other] || !(ways[cell] + length < ways[other])) continue;
                (ways[other], parents[other]) = (ways[cell] + length, cell);
                next.Enqueue(other, (other / layer, ways[other], other));
            }
        }

        return new(grid, parents, ways) { Order = order.ToImmutable() };
    }
}
