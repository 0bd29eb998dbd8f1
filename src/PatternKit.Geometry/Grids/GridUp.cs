using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Grids;

/// <summary>Which way is up in a grid: along one of its axes, or against it. Heights are measured along it from the origin of coordinates.</summary>
/// <param name="Axis">0, 1, 2 for x, y, z.</param>
/// <param name="IsReversed">Whether up is against the axis.</param>
public readonly record struct GridUp(int Axis, bool IsReversed = false)
{
    /// <summary>Up along z.</summary>
    public static GridUp Z => new(2);

    /// <summary>The direction.</summary>
    public Vec3 Direction => Sign * (Axis switch { 0 => new Vec3(1, 0, 0), 1 => new Vec3(0, 1, 0), _ => new Vec3(0, 0, 1) });

    private int Sign => IsReversed ? -1 : 1;

    /// <summary>Height of a place.</summary>
    public double Of(Vec3 p) => Sign * (Axis switch { 0 => p.X, 1 => p.Y, _ => p.Z });

    /// <summary>The level of a cell, 0 for the lowest of the grid.</summary>
    public int Level(SolidGrid grid, int cell)
    {
        var along = grid.Along(Axis, cell);
        return IsReversed ? grid.Length(Axis) - 1 - along : along;
    }

    /// <summary>Height of a level, of its middle for a whole number.</summary>
    public double Height_mm(SolidGrid grid, double level) =>
        Of(grid.Origin) + (IsReversed ? grid.Cell_mm * (level - (grid.Length(Axis) - 1)) : grid.Cell_mm * level);

    /// <summary>From a cell to the one over it.</summary>
    public int Rise(SolidGrid grid) => Sign * grid.Stride(Axis);

    /// <summary>From a cell to the next ones along the two axes of its level.</summary>
    public (int, int) Aside(SolidGrid grid) => Axis switch { 0 => (grid.Stride(1), grid.Stride(2)), 1 => (1, grid.Stride(2)), _ => (1, grid.Stride(1)) };
}
