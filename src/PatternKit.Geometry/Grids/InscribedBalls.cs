using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Grids;

/// <summary>A ball in a body, in cells.</summary>
/// <param name="Middle">From the first middle of the grid.</param>
/// <param name="Radius">Of the ball.</param>
/// <param name="Normal">Outward normal of a face that it touches.</param>
public readonly record struct InscribedBall(Vec3 Middle, double Radius, Vec3 Normal);

/// <summary>The balls that a body holds and that no larger one swallows.</summary>
public static class InscribedBalls
{
    // Cosine of the angle between the normals of both faces.
    private const double Across = -0.5;

    // Of a cell: by how much a ball must stand out of each neighbour's to count for itself.
    private const float Beyond = 0.15f;

    private static readonly (int X, int Y, int Z)[] Forward =
        [.. from z in new[] { -1, 0, 1 } from y in new[] { -1, 0, 1 } from x in new[] { -1, 0, 1 } where x + (3 * y) + (9 * z) > 0 select (x, y, z)];

    /// <summary>
    /// The balls that walls hold between two faces which lie across from each other, their normals 120° apart or more. Between two neighbours on both sides of
    /// a wall's middle the ball is where both faces, taken as planes, are as far; a wall of a single cell has that of its chord, foreshortened. Of all balls
    /// whose middles lie in one cell the largest is given.
    /// </summary>
    /// <param name="skin">Distances of a body.</param>
    public static IEnumerable<InscribedBall> Between(SkinDistance skin) => Between(skin, out _);

    /// <summary>The same, with the radius of the largest of them that each cell is on one side of, in cells; 0 for a cell that is beside none.</summary>
    /// <param name="skin">Distances of a body.</param>
    /// <param name="beside">By cell. In a wall of two cells or less the ball that is given may lie between the middles and hold none of them.</param>
    internal static IEnumerable<InscribedBall> Between(SkinDistance skin, out float[] beside)
    {
        var largest = new InscribedBall[skin.Grid.Count];
        beside = new float[skin.Grid.Count];
        foreach (var (ball, one, other) in All(skin))
        {
            var cell = skin.Grid.CellAt(ball.Middle);
            if (ball.Radius > largest[cell].Radius) largest[cell] = ball;
            beside[one] = Math.Max(beside[one], (float)ball.Radius);
            beside[other] = Math.Max(beside[other], (float)ball.Radius);
        }

        return largest.Where(b => b.Radius > 0);
    }

    /// <summary>Balls about the middles of cells that none about a neighbour swallows, those in corners among them.</summary>
    /// <param name="skin">Distances of a body.</param>
    internal static IEnumerable<InscribedBall> Standing(SkinDistance skin)
    {
        var grid = skin.Grid;
        var reaches = new float[grid.Count];
        for (var cell = 0; cell < grid.Count; cell++)
            if (grid.IsSolid(cell)) reaches[cell] = (float)skin.InCells(cell);
        (int By, float Length)[] steps = [.. Forward.SelectMany(f =>
        {
            var (by, length) = (f.X + (f.Y * grid.Stride(1)) + (f.Z * grid.Stride(2)), MathF.Sqrt((f.X * f.X) + (f.Y * f.Y) + (f.Z * f.Z)));
            return new[] { (by, length), (-by, length) };
        })];
        for (var cell = 0; cell < grid.Count; cell++)
        {
            var reach = reaches[cell];
            if (reach == 0 || IsSwallowed(cell, reach)) continue;
            var (x, y, z) = grid.Split(cell);
            yield return new(new(x, y, z), reach, default);
        }

        bool IsSwallowed(int cell, float reach)
        {
            foreach (var (by, length) in steps)
                if (reaches[cell + by] >= reach + length - Beyond) return true;
            return false;
        }
    }

    private static IEnumerable<(InscribedBall Ball, int One, int Other)> All(SkinDistance skin)
    {
        var grid = skin.Grid;
        var faces = new (Vec3 Normal, double Reach)[grid.Count];
        for (var cell = 0; cell < grid.Count; cell++)
            if (grid.IsSolid(cell)) faces[cell] = skin.Face(cell);
        for (var cell = 0; cell < grid.Count; cell++)
        {
            if (!grid.IsSolid(cell)) continue;
            var (x, y, z) = grid.Split(cell);
            var here = new Vec3(x, y, z);
            var (normal, reach) = faces[cell];
            foreach (var (dx, dy, dz) in Forward)
            {
                var next = cell + dx + (dy * grid.Stride(1)) + (dz * grid.Stride(2));
                if (!grid.IsSolid(next)) continue;
                var (other, back) = faces[next];
                if (Vec3.Dot(normal, other) > Across) continue;
                var step = new Vec3(dx, dy, dz);
                var (u, v) = (Vec3.Dot(normal, step), Vec3.Dot(other, step));
                if (v - u < 1e-6) continue;
                var along = Math.Clamp((back - reach + v) / (v - u), 0, 1);
                yield return (new(here + (along * step), Math.Min(reach - (along * u), back + ((1 - along) * v)), normal), cell, next);
            }

            for (var axis = 0; axis < 3; axis++)
            {
                var stride = grid.Stride(axis);
                var one = axis switch { 0 => new Vec3(1, 0, 0), 1 => new(0, 1, 0), _ => new(0, 0, 1) };
                if (grid.IsSolid(cell + stride) || grid.IsSolid(cell - stride) || Math.Abs(Vec3.Dot(normal, one)) < -Across) continue;
                // The foot of a wall that leans leaves a wedge of one cell, whose faces are not across from each other.
                if (SkinNormal.At(grid, axis, cell - stride) is not { } below || SkinNormal.At(grid, axis, cell) is not { } above || Vec3.Dot(below, above) > Across) continue;
                var (low, high) = (grid.Crossing(axis, cell - stride), grid.Crossing(axis, cell));
                yield return (new(here + ((((low + high) / 2) - Vec3.Dot(here, one)) * one), Math.Abs(Vec3.Dot(normal, one)) * (high - low) / 2, normal), cell, cell);
            }
        }
    }
}
