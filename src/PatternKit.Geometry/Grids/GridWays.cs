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
        // In cells. No step is shorter than one, so that what lies within one cell's length of each other can be settled in any order (Dial 1969); none is as long as two.
        var steps = Steps(grid);
        var shortest = new double[grid.Count];
        Array.Fill(shortest, double.PositiveInfinity);
        var isSettled = new bool[grid.Count];
        List<int>[] within = [[], [], []];
        foreach (var cell in from)
        {
            shortest[cell] = 0;
            within[0].Add(cell);
        }

        var ways = new Dictionary<int, double>();
        for (var turn = 0; within.Any(w => w.Count > 0); turn++)
        {
            var now = within[turn % within.Length];
            foreach (var cell in now)
            {
                if (isSettled[cell]) continue;
                isSettled[cell] = true;
                var here = shortest[cell];
                ways.Add(cell, grid.Cell_mm * here);
                foreach (var (step, length) in steps)
                {
                    var (other, way) = (cell + step, here + length);
                    if (!grid.IsSolid(other) || shortest[other] <= way || !isIn(other)) continue;
                    shortest[other] = way;
                    within[(int)way % within.Length].Add(other);
                }
            }

            now.Clear();
        }

        return ways;
    }

    private static (int Step, double Length)[] Steps(SolidGrid grid) =>
    [
        .. from z in Enumerable.Range(-1, 3)
           from y in Enumerable.Range(-1, 3)
           from x in Enumerable.Range(-1, 3)
           where (x, y, z) != (0, 0, 0)
           select (x + (y * grid.Stride(1)) + (z * grid.Stride(2)), Math.Sqrt((x * x) + (y * y) + (z * z))),
    ];
}
