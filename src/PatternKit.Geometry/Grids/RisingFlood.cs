using System.Collections.Immutable;

namespace PatternKit.Geometry.Grids;

/// <summary>
/// A body filled from some of its cells as by a liquid that finds its level: always the lowest cell that it can reach is next, and on one level the one with the shortest
/// way (priority flood, Barnes, Lehman and Mulla 2014; shortest paths within a level, Dijkstra 1959). Ways go along the axes, and across corners within a level.
/// </summary>
public sealed class RisingFlood
{
    private readonly float[] ways;

    private RisingFlood(SolidGrid grid, float[] ways, ImmutableArray<int> order)
    {
        (Grid, this.ways, Order) = (grid, ways, order);
        Steps = StepsOf(grid);
    }

    /// <summary>The body.</summary>
    public SolidGrid Grid { get; }

    /// <summary>The cells that are reached, in the order in which they fill.</summary>
    public ImmutableArray<int> Order { get; }

    /// <summary>The ways from a cell to its neighbours: what is added to its number, and their length in cells.</summary>
    public ImmutableArray<(int By, float Length)> Steps { get; }

    /// <summary>Length of the shortest way to a cell over what is full by then, mm.</summary>
    public double Way_mm(int cell) => ways[cell] * Grid.Cell_mm;

    /// <summary>Fills a body.</summary>
    /// <param name="grid">The body.</param>
    /// <param name="from">Solid cells.</param>
    public static RisingFlood Of(SolidGrid grid, IEnumerable<int> from)
    {
        var order = ImmutableArray.CreateBuilder<int>(grid.SolidCount);
        var ways = new float[grid.Count];
        Array.Fill(ways, float.PositiveInfinity);
        var filled = new bool[grid.Count];
        var next = new PriorityQueue<int, ulong>();
        var (layer, steps) = (grid.Stride(2), StepsOf(grid));
        foreach (var cell in from)
        {
            ways[cell] = 0;
            next.Enqueue(cell, Key(cell));
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
                ways[other] = ways[cell] + length;
                next.Enqueue(other, Key(other));
            }
        }

        return new(grid, ways, order.ToImmutable());

        // The level first, then the way in 256ths of a cell, then the number of the cell.
        ulong Key(int cell) => ((ulong)(cell / layer) << 50) | ((ulong)(ways[cell] * 256) << 28) | (uint)cell;
    }

    private static ImmutableArray<(int By, float Length)> StepsOf(SolidGrid grid)
    {
        var (rows, layer) = (grid.Stride(1), grid.Stride(2));
        return
        [
            (-layer, 1), (layer, 1), (-1, 1), (1, 1), (-rows, 1), (rows, 1),
            (-rows - 1, MathF.Sqrt(2)), (-rows + 1, MathF.Sqrt(2)), (rows - 1, MathF.Sqrt(2)), (rows + 1, MathF.Sqrt(2)),
        ];
    }
}
