namespace PatternKit.Geometry.Grids;

/// <summary>Shortest ways within a part of a body, from cell to cell along the axes and across edges and corners of cells (Dijkstra 1959): at most 13 % longer than a straight line, √(1 + (√2 − 1)² + (√3 − √2)²).</summary>
public static class GridWays
{
    /// <summary>Length of the shortest way to every cell that hangs together with a first one, mm.</summary>
    /// <param name="grid">The body.</param>
    /// <param name="from">Solid cell.</param>
    /// <param name="isIn">Which solid cells count; the first one does in any case.</param>
    public static IReadOnlyDictionary<int, double> From(SolidGrid grid, int from, Func<int, bool> isIn) => From(grid, [from], isIn);

    /// <summary>The same from the nearest of several cells.</summary>
    /// <inheritdoc cref="From(SolidGrid, int, Func{int, bool})" path="/param"/>
    public static IReadOnlyDictionary<int, double> From(SolidGrid grid, IEnumerable<int> from, Func<int, bool> isIn)
    {
        var ways = new Dictionary<int, double>();
        var settled = new HashSet<int>();
        var next = new PriorityQueue<int, (double, int)>();
        foreach (var cell in from)
            if (ways.TryAdd(cell, 0)) next.Enqueue(cell, (0, cell));
        while (next.TryDequeue(out var cell, out _))
        {
            if (!settled.Add(cell)) continue;
            for (var z = -1; z <= 1; z++)
            {
                for (var y = -1; y <= 1; y++)
                {
                    for (var x = -1; x <= 1; x++)
                    {
                        var other = cell + x + (y * grid.Stride(1)) + (z * grid.Stride(2));
                        if (other == cell || !grid.IsSolid(other) || settled.Contains(other) || !isIn(other)) continue;
                        var way = ways[cell] + (grid.Cell_mm * Math.Sqrt((x * x) + (y * y) + (z * z)));
                        if (ways.TryGetValue(other, out var known) && known <= way) continue;
                        ways[other] = way;
                        next.Enqueue(other, (way, other));
                    }
                }
            }
        }

        return ways;
    }
}
