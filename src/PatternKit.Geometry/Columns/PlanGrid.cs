using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>Square cells in rows over a rectangle of the plan.</summary>
/// <param name="Low">The corner of least coordinates, mm.</param>
/// <param name="Spacing">Side of a cell, mm.</param>
/// <param name="Columns">Cells in a row, along x.</param>
/// <param name="Rows">Rows, along y.</param>
public readonly record struct PlanGrid(Vec2 Low, double Spacing, int Columns, int Rows)
{
    /// <summary>More cells than this are refused.</summary>
    public const int MostCells = 1 << 26;

    /// <summary>Plan area of a cell, mm².</summary>
    public double CellArea_mm2 => Spacing * Spacing;

    /// <summary>The middle of a cell.</summary>
    public Vec2 Centre(int column, int row) => Low + new Vec2((column + 0.5) * Spacing, (row + 0.5) * Spacing);

    /// <summary>The grid of a spacing with the same middle as a box, and at least as wide.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The spacing is not positive and finite, or gives more than <see cref="MostCells"/> cells.</exception>
    internal static PlanGrid Over(Box3 box, double spacing)
    {
        if (!(spacing > 0) || !double.IsFinite(spacing)) throw new ArgumentOutOfRangeException(nameof(spacing), "The spacing of a grid must be above 0.");
        // What a side is too long by through rounding makes no further cell.
        var (columns, rows) = (Math.Max(1, Math.Ceiling((box.Size.X / spacing) - 1e-9)), Math.Max(1, Math.Ceiling((box.Size.Y / spacing) - 1e-9)));
        if (!(columns * rows <= MostCells)) throw new ArgumentOutOfRangeException(nameof(spacing), "The spacing of a grid is too small for the body.");
        var middle = 0.5 * (box.Low + box.High);
        return new(middle.Plan - (0.5 * spacing * new Vec2(columns, rows)), spacing, (int)columns, (int)rows);
    }
}
