using System.Globalization;

namespace PatternKit.Geometry.Numerics;

/// <summary>A point or vector of the plan, in millimetres unless a member says otherwise.</summary>
public readonly record struct Vec2(double X, double Y)
{
    /// <summary>Euclidean length.</summary>
    public double Length => Math.Sqrt((X * X) + (Y * Y));

    /// <summary>Square of the length.</summary>
    public double LengthSquared => (X * X) + (Y * Y);

    /// <summary>This vector turned a quarter turn counter-clockwise.</summary>
    public Vec2 Left => new(-Y, X);

    /// <summary>True when neither coordinate is NaN or infinite.</summary>
    public bool IsFinite => double.IsFinite(X) && double.IsFinite(Y);

    /// <summary>The vector of length one in this direction; NaN for the zero vector.</summary>
    public Vec2 Normalized()
    {
        var l = Length;
        return new(X / l, Y / l);
    }

    /// <summary>The coordinates, invariant. (The generated text would print <see cref="Left"/>, and its Left, without end.)</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"({X}, {Y})");

    /// <summary>Scalar product.</summary>
    public static double Dot(Vec2 a, Vec2 b) => (a.X * b.X) + (a.Y * b.Y);

    /// <summary>z component of the cross product; positive when b lies to the left of a.</summary>
    public static double Cross(Vec2 a, Vec2 b) => (a.X * b.Y) - (a.Y * b.X);

    /// <summary>Distance between two points.</summary>
    public static double Distance(Vec2 a, Vec2 b) => (a - b).Length;

    /// <summary>The point of the segment from a to b, which differ, that is nearest to p.</summary>
    public static Vec2 Nearest(Vec2 p, Vec2 a, Vec2 b) => a + (Math.Clamp(Dot(p - a, b - a) / (b - a).LengthSquared, 0, 1) * (b - a));

    public static Vec2 operator +(Vec2 a, Vec2 b) => new(a.X + b.X, a.Y + b.Y);

    public static Vec2 operator -(Vec2 a, Vec2 b) => new(a.X - b.X, a.Y - b.Y);

    public static Vec2 operator -(Vec2 a) => new(-a.X, -a.Y);

    public static Vec2 operator *(double s, Vec2 a) => new(s * a.X, s * a.Y);

    public static Vec2 operator *(Vec2 a, double s) => new(s * a.X, s * a.Y);

    public static Vec2 operator /(Vec2 a, double s) => new(a.X / s, a.Y / s);
}
