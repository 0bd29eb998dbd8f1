using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Grids;

/// <summary>Reads where a body is solid over a place of the plan: ascending, not touching.</summary>
/// <param name="p">The place.</param>
/// <param name="into">Empty when it is called; takes the intervals.</param>
public delegate void ColumnReader(Vec2 p, List<ColumnInterval> into);

/// <summary>
/// Cubes over a body, solid where their middles are, with an empty layer all round, and the places at which the lines through the middles pass the skin. Those are exact
/// along z and good to a 128th of a cell along x and y, so that sizes come out much finer than the cells.
/// <para>
/// What lies between the lines of middles is not seen: a wall thinner than a cell may be missed.
/// </para>
/// </summary>
public sealed class SolidGrid
{
    private const int Steps = 64;

    private readonly bool[] solid;
    private readonly float[][] crossings;
    private readonly float[] parts;

    private SolidGrid(Vec3 origin, double cell_mm, int columns, int rows, int layers)
    {
        (Origin, Cell_mm, Columns, Rows, Layers) = (origin, cell_mm, columns, rows, layers);
        solid = new bool[Count];
        crossings = [new float[Count], new float[Count], new float[Count]];
        parts = new float[Count];
    }

    /// <summary>Middle of the first cell.</summary>
    public Vec3 Origin { get; }

    /// <summary>Edge of a cell.</summary>
    public double Cell_mm { get; }

    /// <summary>Cells along x.</summary>
    public int Columns { get; }

    /// <summary>Cells along y.</summary>
    public int Rows { get; }

    /// <summary>Cells along z.</summary>
    public int Layers { get; }

    /// <summary>All cells; a cell's number is x + columns · (y + rows · z).</summary>
    public int Count => Columns * Rows * Layers;

    /// <summary>Solid cells.</summary>
    public int SolidCount { get; private set; }

    /// <summary>What all solid cells stand for, in cells: the volume of the body as they tell it.</summary>
    public double Filled { get; private set; }

    /// <summary>
    /// What a solid cell stands for, in cells: along each axis it reaches to the skin, or half way to the next middle. So a plate that lies along the axes is as thick as it is, however its cells fall.
    /// </summary>
    public float Part(int cell) => parts[cell];

    /// <summary>Whether the middle of a cell is in the body.</summary>
    public bool IsSolid(int cell) => solid[cell];

    /// <summary>Middle of a cell.</summary>
    public Vec3 Middle(int cell)
    {
        var (x, y, z) = Split(cell);
        return At(x, y, z);
    }

    /// <summary>From one cell to the next along an axis: 0, 1, 2 for x, y, z.</summary>
    public int Stride(int axis) => axis switch { 0 => 1, 1 => Columns, _ => Columns * Rows };

    /// <summary>Cells along an axis.</summary>
    public int Length(int axis) => axis switch { 0 => Columns, 1 => Rows, _ => Layers };

    /// <summary>Where the line from a cell to the next along an axis passes the skin, in cells from the first middle; of a pair of which one is solid.</summary>
    public float Crossing(int axis, int cell) => crossings[axis][cell];

    /// <summary>Where a cell stands along an axis, in cells from the first.</summary>
    public int Along(int axis, int cell) => axis switch { 0 => cell % Columns, 1 => cell / Columns % Rows, _ => cell / (Columns * Rows) };

    /// <summary>How far a solid cell reaches from its middle along an axis or against it, in cells: to the skin, or half way to the next middle.</summary>
    public float Reach(int axis, int cell, int sign)
    {
        var next = cell + (sign * Stride(axis));
        return solid[next] ? 0.5f : sign * (crossings[axis][Math.Min(cell, next)] - Along(axis, cell));
    }

    /// <summary>The parts of a cell's number.</summary>
    public (int X, int Y, int Z) Split(int cell)
    {
        var (rest, x) = Math.DivRem(cell, Columns);
        var (z, y) = Math.DivRem(rest, Rows);
        return (x, y, z);
    }

    /// <summary>The cell that holds a place, told in cells from the first middle.</summary>
    public int CellAt(Vec3 p) => Cell((int)Math.Round(p.X), (int)Math.Round(p.Y), (int)Math.Round(p.Z));

    /// <summary>The solid cell nearest to a place; −1 where none is.</summary>
    /// <param name="p">The place.</param>
    /// <param name="isIn">Which cells count; all when left out.</param>
    public int Nearest(Vec3 p, Func<int, bool>? isIn = null)
    {
        var (best, least) = (-1, double.PositiveInfinity);
        for (var cell = 0; cell < solid.Length; cell++)
        {
            if (!solid[cell] || isIn?.Invoke(cell) == false) continue;
            var distance = (Middle(cell) - p).Length;
            if (distance < least) (best, least) = (cell, distance);
        }

        return best;
    }

    /// <summary>Reads a body. Rows are read in parallel, with the same result.</summary>
    /// <param name="box">Around the body.</param>
    /// <param name="cell_mm">Edge of a cell.</param>
    /// <param name="column">Where the body is solid; may be asked from several threads.</param>
    /// <exception cref="ArgumentOutOfRangeException">The edge is not positive, or there would be too many cells.</exception>
    public static SolidGrid Read(Box3 box, double cell_mm, ColumnReader column)
    {
        if (!(cell_mm > 0) || !double.IsFinite(cell_mm)) throw new ArgumentOutOfRangeException(nameof(cell_mm));
        int Cells(double size) => (int)Math.Ceiling(Math.Max(size / cell_mm, 1e-9)) + 2;
        var (columns, rows, layers) = (Cells(box.Size.X), Cells(box.Size.Y), Cells(box.Size.Z));
        if ((double)columns * rows * layers > 1 << 28) throw new ArgumentOutOfRangeException(nameof(cell_mm), cell_mm, "would make too many cells");
        // The body stands in the middle of its cells.
        var middle = 0.5 * (box.Low + box.High);
        var origin = middle - (0.5 * cell_mm * new Vec3(columns - 1, rows - 1, layers - 1));
        var grid = new SolidGrid(origin, cell_mm, columns, rows, layers);
        var counts = new int[rows];
        Parallel.For(0, rows, () => new List<ColumnInterval>(), (row, _, list) =>
        {
            for (var x = 0; x < columns; x++)
            {
                counts[row] += grid.Fill(x, row, grid.Column(column, x, row, list));
            }

            return list;
        }, _ => { });
        Parallel.For(0, rows, () => new List<ColumnInterval>(), (row, _, list) =>
        {
            for (var x = 0; x < columns; x++)
            {
                if (x + 1 < columns) grid.CrossBetween(0, x, row, column, list);
                if (row + 1 < rows) grid.CrossBetween(1, x, row, column, list);
            }

            return list;
        }, _ => { });
        grid.SolidCount = counts.Sum();
        for (var cell = 0; cell < grid.Count; cell++)
        {
            if (!grid.solid[cell]) continue;
            grid.parts[cell] = grid.Extent(0, cell) * grid.Extent(1, cell) * grid.Extent(2, cell);
            grid.Filled += grid.parts[cell];
        }

        return grid;
    }

    private Vec3 At(double x, double y, double z) => Origin + (Cell_mm * new Vec3(x, y, z));

    private ColumnInterval[] Column(ColumnReader column, double x, double y, List<ColumnInterval> list)
    {
        list.Clear();
        column(At(x, y, 0).Plan, list);
        return list.Count == 0 ? [] : [.. list];
    }

    private int Fill(int x, int y, ColumnInterval[] column)
    {
        var filled = 0;
        foreach (var interval in column)
        {
            double low = (interval.Low - Origin.Z) / Cell_mm, high = (interval.High - Origin.Z) / Cell_mm;
            var (first, last) = (Math.Max(1, (int)Math.Ceiling(low)), Math.Min(Layers - 2, (int)Math.Ceiling(high) - 1));
            if (first > last) continue;
            for (var z = first; z <= last; z++) solid[Cell(x, y, z)] = true;
            filled += last - first + 1;
            crossings[2][Cell(x, y, first - 1)] = (float)low;
            crossings[2][Cell(x, y, last)] = (float)high;
        }

        return filled;
    }

    private float Extent(int axis, int cell) => Reach(axis, cell, 1) + Reach(axis, cell, -1);

    private int Cell(int x, int y, int z) => x + (Columns * (y + (Rows * z)));

    private void CrossBetween(int axis, int x, int y, ColumnReader column, List<ColumnInterval> list)
    {
        var stride = Stride(axis);
        // What lies between both columns is read where it is first asked for.
        ColumnInterval[]?[]? between = null;
        for (var z = 1; z < Layers - 1; z++)
        {
            var cell = Cell(x, y, z);
            if (solid[cell] == solid[cell + stride]) continue;
            between ??= new ColumnInterval[]?[Steps];
            var height = Origin.Z + (Cell_mm * z);
            var (low, high) = (0, Steps);
            while (high - low > 1)
            {
                var middle = (low + high) / 2;
                var along = (double)middle / Steps;
                var there = between[middle] ??= axis == 0 ? Column(column, x + along, y, list) : Column(column, x, y + along, list);
                if (Holds(there, height) == solid[cell]) low = middle;
                else high = middle;
            }

            crossings[axis][cell] = (float)((axis == 0 ? x : y) + ((low + high) / (2.0 * Steps)));
        }
    }

    private static bool Holds(ColumnInterval[] column, double height)
    {
        foreach (var interval in column)
            if (interval.Low <= height && height < interval.High) return true;
        return false;
    }
}
