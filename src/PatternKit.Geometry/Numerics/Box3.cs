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

    /// <summary>Distance from a point to the nearest of the box, 0 inside.</summary>
    public double DistanceTo(Vec3 p) => new Vec3(Beyond(Low.X, High.X, p.X), Beyond(Low.Y, High.Y, p.Y), Beyond(Low.Z, High.Z, p.Z)).Length;

    /// <summary>Distance in plan from a rectangle, 0 where they overlap.</summary>
    public double PlanDistance(Vec2 low, Vec2 high) => new Vec2(Math.Max(0, Math.Max(Low.X - high.X, low.X - High.X)), Math.Max(0, Math.Max(Low.Y - high.Y, low.Y - High.Y))).Length;

    private static double Beyond(double low, double high, double at) => Math.Max(0, Math.Max(low - at, at - high));
}
