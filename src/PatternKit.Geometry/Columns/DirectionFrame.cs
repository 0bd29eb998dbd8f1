using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>
/// Right-handed axes of length one whose third runs along a direction: plan coordinates square to it and the height along it.
/// The origin stays where it is. Along z the axes are those of space.
/// </summary>
public readonly record struct DirectionFrame
{
    private readonly Vec3 u;
    private readonly Vec3 v;

    private DirectionFrame(Vec3 u, Vec3 v, Vec3 direction) => (this.u, this.v, Direction) = (u, v, direction);

    /// <summary>The direction, of length one.</summary>
    public Vec3 Direction { get; }

    /// <summary>The frame of a direction of any length. The first axis is a coordinate axis made square to the direction.</summary>
    /// <exception cref="ArgumentException">The direction has no length or is not finite.</exception>
    public static DirectionFrame Along(Vec3 direction)
    {
        var largest = Math.Max(Math.Abs(direction.X), Math.Max(Math.Abs(direction.Y), Math.Abs(direction.Z)));
        if (!direction.IsFinite || largest == 0) throw new ArgumentException("A direction needs a finite length above 0.", nameof(direction));
        var w = Unit((1 / largest) * direction);
        var axis = Math.Abs(direction.Z) == largest ? new Vec3(1, 0, 0)
            : Math.Abs(direction.X) == largest ? new Vec3(0, 1, 0)
            : new Vec3(0, 0, 1);
        var u = Unit(axis - (Vec3.Dot(axis, w) * w));
        return new(u, Vec3.Cross(w, u), w);
    }

    /// <summary>Plan coordinates and height of a point of space.</summary>
    public Vec3 FromSpace(Vec3 p) => new(Vec3.Dot(u, p), Vec3.Dot(v, p), Vec3.Dot(Direction, p));

    /// <summary>The point of space with these plan coordinates and height.</summary>
    public Vec3 ToSpace(Vec3 q) => (q.X * u) + (q.Y * v) + (q.Z * Direction);

    private static Vec3 Unit(Vec3 p) => (1 / p.Length) * p;
}
