using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>
/// The regular polygon that has the area of the unit circle: what is turned from it has the sections of the round body. Its corners stand
/// off the circle by about φ² / 12, φ the angle of a side.
/// </summary>
public static class EqualAreaPolygon
{
    /// <summary>Its corners from the direction of x on, counter-clockwise.</summary>
    /// <param name="sides">At least three.</param>
    /// <exception cref="ArgumentOutOfRangeException">Fewer.</exception>
    public static Vec2[] Corners(int sides)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sides, 3);
        var turn = 2 * Math.PI / sides;
        var scale = Math.Sqrt(turn / Math.Sin(turn));
        return [.. Enumerable.Range(0, sides).Select(j =>
        {
            // Whole quarters exactly, so that both sides of an axis get the same numbers.
            if (4 * j % sides == 0) return scale * new[] { new Vec2(1, 0), new(0, 1), new(-1, 0), new(0, -1) }[4 * j / sides];
            var (sin, cos) = Math.SinCos(j * turn);
            return scale * new Vec2(cos, sin);
        })];
    }
}
