namespace PatternKit.Geometry.Numerics;

/// <summary>A plane over the plan: its height at a point p is <c>AtOrigin</c> + <c>Gradient</c> · p, mm.</summary>
/// <param name="AtOrigin">Height over the origin of the plan, mm.</param>
/// <param name="Gradient">Rise per plan length; zero for a level plane.</param>
public readonly record struct HeightPlane(double AtOrigin, Vec2 Gradient)
{
    /// <summary>Whether the height is the same everywhere.</summary>
    public bool IsLevel => Gradient == default;

    /// <summary>Steepest rise per plan length.</summary>
    public double Slope => Gradient.Length;

    /// <summary>The plane through three points whose plans are no line.</summary>
    public static HeightPlane Through(Vec3 a, Vec3 b, Vec3 c)
    {
        var n = Vec3.Cross(b - a, c - a);
        var gradient = new Vec2(-n.X / n.Z, -n.Y / n.Z);
        return new(a.Z - Vec2.Dot(gradient, a.Plan), gradient);
    }

    /// <summary>The level plane of a height.</summary>
    public static implicit operator HeightPlane(double height) => new(height, default);

    /// <summary>The mirror image in height zero.</summary>
    public static HeightPlane operator -(HeightPlane plane) => new(-plane.AtOrigin, -plane.Gradient);

    /// <summary>The plane so much higher.</summary>
    public HeightPlane Raised(double by) => this with { AtOrigin = AtOrigin + by };

    /// <summary>Height over a point.</summary>
    public double At(Vec2 p) => AtOrigin + Vec2.Dot(Gradient, p);
}
