using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Grids;

/// <summary>Which way the skin of a grid looks where a line of middles passes it, told by where the lines beside it do.</summary>
internal static class SkinNormal
{
    // Passages of neighbouring lines farther apart than this, in cells, are those of another face.
    private const int Reach = 3;

    // A face whose slope changes by more than this from one line to the next has an edge there.
    private const double Bend = 1;

    /// <summary>The outward normal, of length one; null where the skin runs along the line, or nothing beside it tells.</summary>
    /// <param name="grid">The body.</param>
    /// <param name="axis">Of the line.</param>
    /// <param name="cell">The lower of the two cells between which it passes.</param>
    public static Vec3? At(SolidGrid grid, int axis, int cell)
    {
        var (b, c) = ((axis + 1) % 3, (axis + 2) % 3);
        if (Slope(grid, axis, b, cell) is not { } first || Slope(grid, axis, c, cell) is not { } second) return null;
        var length = Math.Sqrt(1 + (first * first) + (second * second));
        var sign = grid.IsSolid(cell) ? 1 / length : -1 / length;
        var (along, atB, atC) = (sign, -sign * first, -sign * second);
        return axis switch { 0 => new(along, atB, atC), 1 => new(atC, along, atB), _ => new(atB, atC, along) };
    }

    /// <summary>The mean of both sides where the skin is smooth; at an edge one of them belongs to another face, and the gentler is taken.</summary>
    private static double? Slope(SolidGrid grid, int axis, int across, int cell)
    {
        var by = grid.Stride(across);
        var (up, down) = (Beside(grid, axis, cell, cell + by), -Beside(grid, axis, cell, cell - by));
        return up is { } u && down is { } d ? Math.Abs(u - d) < Bend ? (u + d) / 2 : Math.Abs(u) <= Math.Abs(d) ? u : d : up ?? down;
    }

    private static double? Beside(SolidGrid grid, int axis, int cell, int other)
    {
        var (stride, here) = (grid.Stride(axis), grid.IsSolid(cell));
        for (var i = 0; i <= Reach; i++)
        {
            for (var sign = -1; sign <= 1; sign += 2)
            {
                var at = other + (sign * i * stride);
                if (at >= 0 && at + stride < grid.Count && grid.IsSolid(at) == here && grid.IsSolid(at + stride) != here) return grid.Crossing(axis, at) - grid.Crossing(axis, cell);
            }
        }

        return null;
    }
}
