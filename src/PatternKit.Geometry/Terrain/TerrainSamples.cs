using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>What a ball of one radius would do to a terrain, as cells tell.</summary>
/// <param name="Radius_mm">Of the ball.</param>
/// <param name="Fills">Cells that it would raise.</param>
/// <param name="Buries">Of these, floor that it would bury: too narrow between walls for the ball to leave its share of it.</param>
/// <param name="Overtops">Of these, floor at the foot of walls that are lower than its arc.</param>
internal sealed record BallRoom(double Radius_mm, CellMask Fills, CellMask Buries, CellMask Overtops);

/// <summary>
/// A terrain at the middles of equal cells, walls running on below the ground: tells where a ball of some radius would fill, and what of the floor would be lost. The closing of the
/// samples by a ball of the grid raises nothing where the ground is plane or bulges, and finds every inside corner that is filled by more than the asked depth.
/// </summary>
internal sealed class TerrainSamples
{
    /// <summary>Ground that rises no more than this is floor, not wall: 45°.</summary>
    private const double FloorSlope = 1;

    private readonly PlanGrid grid;
    private readonly double[] heights;
    private readonly double ground;
    private readonly double slope;

    /// <summary>Samples a terrain.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="around">How far beyond the footprint, mm.</param>
    /// <param name="cell">Side of a cell, mm.</param>
    public TerrainSamples(DraftedTerrain terrain, double around, double cell)
    {
        var box = terrain.Footprint.Geometry.EnvelopeInternal;
        var low = new Vec2(box.MinX - around, box.MinY - around);
        grid = new(low, new(cell, cell), (int)Math.Ceiling((box.MaxX + around - low.X) / cell), (int)Math.Ceiling((box.MaxY + around - low.Y) / cell));
        (ground, slope) = (terrain.GroundHeight, 1 / Math.Tan(Math.Min(terrain.OpenAngle, terrain.EnclosedAngle)));
        heights = new double[grid.Columns * grid.Rows];
        Parallel.For(0, grid.Rows, row =>
        {
            for (var column = 0; column < grid.Columns; column++) heights[(row * grid.Columns) + column] = terrain.WithoutGround(grid.Centre(column, row));
        });
    }

    /// <summary>The cells.</summary>
    public PlanGrid Grid => grid;

    /// <summary>Cells that a ball would raise by more than a depth.</summary>
    public CellMask Fills(double radius, double depth)
    {
        var closed = Closed(radius);
        return new(grid, [.. closed.Select((z, i) => z > Floor(i) + depth)]);
    }

    /// <summary>What a ball would do.</summary>
    /// <param name="radius">Its radius, mm.</param>
    /// <param name="depth">What is filled by less does not count, mm.</param>
    /// <param name="share">How much of the floor between two walls the foot of one may take.</param>
    /// <param name="wallsEnd">Height at which walls count as ended.</param>
    public BallRoom Room(double radius, double depth, double share, double wallsEnd)
    {
        var fills = Fills(radius, depth);
        var draft = Math.Atan(1 / slope);
        var half = radius * Math.Tan((Math.PI / 4) - (draft / 2)) / share / 2;
        // A fillet stops where its wall does: tangent to the floor, it climbs r (1 − sin θ) of a wall.
        var rise = (radius * (1 - Math.Sin(draft))) - depth;
        var (buries, overtops) = (new bool[heights.Length], new bool[heights.Length]);
        Parallel.For(0, grid.Rows, row =>
        {
            for (var column = 0; column < grid.Columns; column++)
            {
                var i = (row * grid.Columns) + column;
                if (!fills[column, row] || !IsFloor(column, row)) continue;
                buries[i] = !HasRoom(column, row, half);
                overtops[i] = Math.Min(Highest(column, row, radius), wallsEnd) - Floor(i) < rise;
            }
        });
        // Corners between walls hold less than the square of the disc; ends of high walls look low to a few cells.
        return new(radius, fills, Large(buries, half * half), Large(overtops, radius * radius / 4));

        CellMask Large(bool[] cells, double area) =>
            new(grid, Marked(new CellMask(grid, cells).Pieces().Where(p => p.Count * grid.CellArea_mm2 > area).SelectMany(p => p)));
    }

    private bool[] Marked(IEnumerable<(int Column, int Row)> cells)
    {
        var marked = new bool[heights.Length];
        foreach (var (column, row) in cells) marked[(row * grid.Columns) + column] = true;
        return marked;
    }

    private double Floor(int i) => Math.Max(heights[i], ground);

    /// <summary>Whether the ground at a cell is gentle towards some neighbour on either side of it.</summary>
    private bool IsFloor(int column, int row)
    {
        if (column == 0 || row == 0 || column == grid.Columns - 1 || row == grid.Rows - 1) return false;
        var i = (row * grid.Columns) + column;
        return IsGentle(i, 1) && IsGentle(i, grid.Columns);

        bool IsGentle(int at, int step) => Math.Min(Math.Abs(Floor(at) - Floor(at - step)), Math.Abs(Floor(at + step) - Floor(at))) <= FloorSlope * grid.Cell.X;
    }

    /// <summary>Whether a disc of a radius that covers the cell has no wall in it.</summary>
    private bool HasRoom(int column, int row, double half)
    {
        var reach = (int)(half / grid.Cell.X);
        for (var j = Math.Max(0, row - reach); j <= Math.Min(grid.Rows - 1, row + reach); j++)
        {
            for (var i = Math.Max(0, column - reach); i <= Math.Min(grid.Columns - 1, column + reach); i++)
            {
                if (Squared(i - column, j - row) <= half * half && Math.Abs(Floor((j * grid.Columns) + i) - Floor((row * grid.Columns) + column)) <= FloorSlope * half && Clear(i, j) + grid.Cell.X >= half) return true;
            }
        }

        return false;

        // Distance from the middle of a disc to the nearest wall, as far as the disc.
        double Clear(int i, int j)
        {
            var (at, nearest) = (Floor((j * grid.Columns) + i), half * half);
            for (var n = Math.Max(0, j - reach); n <= Math.Min(grid.Rows - 1, j + reach); n++)
            {
                for (var m = Math.Max(0, i - reach); m <= Math.Min(grid.Columns - 1, i + reach); m++)
                {
                    var far = Squared(m - i, n - j);
                    if (far < nearest && Floor((n * grid.Columns) + m) - at > FloorSlope * Math.Sqrt(far)) nearest = far;
                }
            }

            return Math.Sqrt(nearest);
        }
    }

    /// <summary>The highest within a distance.</summary>
    private double Highest(int column, int row, double within)
    {
        var (reach, highest) = ((int)Math.Ceiling(within / grid.Cell.X), double.NegativeInfinity);
        for (var j = Math.Max(0, row - reach); j <= Math.Min(grid.Rows - 1, row + reach); j++)
            for (var i = Math.Max(0, column - reach); i <= Math.Min(grid.Columns - 1, column + reach); i++)
                highest = Math.Max(highest, heights[(j * grid.Columns) + i]);
        return highest;
    }

    private double Squared(int across, int up) => ((across * across) + (up * up)) * grid.CellArea_mm2;

    /// <summary>The samples closed by a ball whose centre stands over middles of cells.</summary>
    private double[] Closed(double radius)
    {
        var reach = (int)(radius / grid.Cell.X);
        var ball = new List<(int Across, int Up, double Height)>();
        for (var up = -reach; up <= reach; up++)
            for (var across = -reach; across <= reach; across++)
                if ((radius * radius) - Squared(across, up) is >= 0 and var rest) ball.Add((across, up, Math.Sqrt(rest)));
        var (dilated, closed) = (new double[heights.Length], new double[heights.Length]);
        Parallel.For(0, grid.Rows, row =>
        {
            for (var column = 0; column < grid.Columns; column++)
            {
                var most = double.NegativeInfinity;
                foreach (var (across, up, height) in ball)
                    if (IsIn(column + across, row + up)) most = Math.Max(most, heights[((row + up) * grid.Columns) + column + across] + height);
                dilated[(row * grid.Columns) + column] = most;
            }
        });
        Parallel.For(0, grid.Rows, row =>
        {
            for (var column = 0; column < grid.Columns; column++)
            {
                var least = double.PositiveInfinity;
                foreach (var (across, up, height) in ball)
                    if (IsIn(column + across, row + up)) least = Math.Min(least, dilated[((row + up) * grid.Columns) + column + across] - height);
                closed[(row * grid.Columns) + column] = least;
            }
        });
        return closed;

        bool IsIn(int column, int row) => column >= 0 && row >= 0 && column < grid.Columns && row < grid.Rows;
    }
}
