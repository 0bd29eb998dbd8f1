using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Grids;

/// <summary>
/// Volume over skin of the section of a body about a place: of what lies in a cube one and a half times as wide as the largest ball there, its faces along those of the body.
/// So wide it holds both faces of a wall wherever the ball was found between them, and of a bar, a ball or a junction all that belongs to it, with hardly anything of what it stands on.
/// </summary>
public static class SectionModulus
{
    private const double Window_balls = 1.5;

    /// <summary>
    /// The modulus about a ball, mm; never more than its radius, which no convex body exceeds (V ≤ r A, r of the largest ball in it: Bonnesen and Fenchel, Theorie der konvexen Körper, 1934, from memory). Volume is the mean of the lengths that lines along all three axes run through the body; skin is told by where
    /// they leave it: a face of the normal n is passed by |n_x| + |n_y| + |n_z| lines for each cell of its area.
    /// </summary>
    /// <param name="grid">The body.</param>
    /// <param name="ball">A ball in it.</param>
    public static double At_mm(SolidGrid grid, InscribedBall ball)
    {
        var window = Window.About(ball);
        double volume = 0, skin = 0;
        for (var axis = 0; axis < 3; axis++)
        {
            var (b, c, stride) = ((axis + 1) % 3, (axis + 2) % 3, grid.Stride(axis));
            foreach (var j in Lines(Of(ball.Middle, b), window.Reach + 0.5, grid.Length(b)))
            {
                foreach (var k in Lines(Of(ball.Middle, c), window.Reach + 0.5, grid.Length(c)))
                {
                    if (window.Along(axis, j, k) is not { } part) continue;
                    var start = (j * grid.Stride(b)) + (k * grid.Stride(c));
                    for (int i = Math.Max(0, (int)Math.Floor(part.Low)), last = Math.Min(grid.Length(axis) - 2, (int)Math.Floor(part.High)); i <= last; i++)
                    {
                        var cell = start + (i * stride);
                        var (here, next) = (grid.IsSolid(cell), grid.IsSolid(cell + stride));
                        if (!here && !next) continue;
                        double from = i, to = i + 1;
                        if (here != next)
                        {
                            double at = grid.Crossing(axis, cell);
                            if (here) to = at;
                            else from = at;
                            if (at >= part.Low && at <= part.High) skin += part.Weight * (SkinNormal.At(grid, axis, cell) is { } n ? 1 / (Math.Abs(n.X) + Math.Abs(n.Y) + Math.Abs(n.Z)) : 1);
                        }

                        volume += part.Weight * Math.Max(0, Math.Min(to, part.High) - Math.Max(from, part.Low)) / 3;
                    }
                }
            }
        }

        return grid.Cell_mm * (skin == 0 ? ball.Radius : Math.Min(ball.Radius, volume / skin));
    }

    private static IEnumerable<int> Lines(double middle, double reach, int length)
    {
        for (int i = Math.Max(1, (int)Math.Ceiling(middle - reach)), last = Math.Min(length - 2, (int)Math.Floor(middle + reach)); i <= last; i++) yield return i;
    }

    private static double Of(Vec3 v, int axis) => axis switch { 0 => v.X, 1 => v.Y, _ => v.Z };

    /// <summary>A cube along a face and, as far as that lets it, upright.</summary>
    private sealed class Window(Vec3 middle, double half, Vec3[] sides)
    {
        /// <summary>From its middle to its corners.</summary>
        public double Reach { get; } = half * Math.Sqrt(3);

        public static Window About(InscribedBall ball)
        {
            var across = ball.Normal.Length > 0.5 ? ball.Normal : new(0, 0, 1);
            var up = Math.Abs(across.Z) < 0.9 ? new Vec3(0, 0, 1) : new(1, 0, 0);
            var second = up - (Vec3.Dot(up, across) * across);
            second = 1 / second.Length * second;
            return new(ball.Middle, Window_balls * ball.Radius, [across, second, Vec3.Cross(across, second)]);
        }

        /// <summary>The part of a line along an axis that lies in the cube; near a side that the line runs along, how much of the line's cells does.</summary>
        public (double Low, double High, double Weight)? Along(int axis, int j, int k)
        {
            const double Parallel = 0.1;
            var from = axis switch { 0 => new Vec3(0, j, k), 1 => new(k, 0, j), _ => new(j, k, 0) } - middle;
            var (low, high, weight) = (double.NegativeInfinity, double.PositiveInfinity, 1.0);
            foreach (var side in sides)
            {
                var (at, slope) = (Vec3.Dot(from, side), Of(side, axis));
                if (Math.Abs(slope) < Parallel)
                {
                    // Where the line passes the middle of the cube.
                    weight *= Math.Clamp(half + 0.5 - Math.Abs(at + (slope * Of(middle, axis))), 0, 1);
                    continue;
                }

                double a = (-half - at) / slope, b = (half - at) / slope;
                (low, high) = (Math.Max(low, Math.Min(a, b)), Math.Min(high, Math.Max(a, b)));
            }

            return low < high && weight > 0 ? (low, high, weight) : null;
        }
    }
}
