using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>Equal cells in rows over a rectangle of the plan.</summary>
/// <param name="Low">The corner of least coordinates, mm.</param>
/// <param name="Cell">Sides of a cell, mm.</param>
/// <param name="Columns">Cells in a row, along x.</param>
/// <param name="Rows">Rows, along y.</param>
public readonly record struct PlanGrid(Vec2 Low, Vec2 Cell, int Columns, int Rows)
{
    /// <summary>More cells than this are refused.</summary>
    public const int MostCells = 1 << 26;

    /// <summary>Plan area of a cell, mm².</summary>
    public double CellArea_mm2 => Cell.X * Cell.Y;

    /// <summary>The corner of a cell of least coordinates.</summary>
    public Vec2 Corner(int column, int row) => Low + new Vec2(column * Cell.X, row * Cell.Y);

    /// <summary>The middle of a cell.</summary>
    public Vec2 Centre(int column, int row) => Low + new Vec2((column + 0.5) * Cell.X, (row + 0.5) * Cell.Y);

    /// <summary>
    /// Cells that tile the plan of a box, square but for what that takes, so that straight outlines of a body along the sides of its box fall between them.
    /// </summary>
    /// <param name="box">The box.</param>
    /// <param name="spacing">Longest side of a cell, mm.</param>
    /// <exception cref="ArgumentOutOfRangeException">The spacing is not positive and finite, or gives more than <see cref="MostCells"/> cells.</exception>
    internal static PlanGrid Over(Box3 box, double spacing)
    {
        if (!(spacing > 0) || !double.IsFinite(spacing)) throw new ArgumentOutOfRangeException(nameof(spacing), "The spacing of a grid must be above 0.");
        var (columns, rows) = (Count(box.Size.X), Count(box.Size.Y));
        if (!(columns * rows <= MostCells)) throw new ArgumentOutOfRangeException(nameof(spacing), "The spacing of a grid is too small for the body.");
        return new(box.Low.Plan, new(Side(box.Size.X, columns), Side(box.Size.Y, rows)), (int)columns, (int)rows);

        // What a side is too long by through rounding makes no further cell.
        double Count(double length) => Math.Max(1, Math.Ceiling((length / spacing) - 1e-9));

        double Side(double length, double count) => length > 0 ? length / count : spacing;
    }
}
