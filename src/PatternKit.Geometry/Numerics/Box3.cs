namespace PatternKit.Geometry.Numerics;

/// <summary>An axis-aligned box in space; empty when a low exceeds a high.</summary>
public readonly record struct Box3(Vec3 Low, Vec3 High)
{
    /// <summary>The box that contains nothing.</summary>
    public static Box3 Empty { get; } = new(
        new(double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity),
        new(double.NegativeInfinity, double.NegativeInfinity, double.NegativeInfinity));

    /// <summary>Edge lengths.</summary>
    public Vec3 Size => High - Low;

    /// <summary>The smallest box that also contains <paramref name="p"/>.</summary>
    public Box3 With(Vec3 p) => new(
        new(Math.Min(Low.X, p.X), Math.Min(Low.Y, p.Y), Math.Min(Low.Z, p.Z)),
        new(Math.Max(High.X, p.X), Math.Max(High.Y, p.Y), Math.Max(High.Z, p.Z)));
}
