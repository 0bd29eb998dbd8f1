using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>An affine map of space by the images of the axes and of the origin.</summary>
internal readonly record struct Affine3(Vec3 X, Vec3 Y, Vec3 Z, Vec3 Origin)
{
    public static Affine3 Identity { get; } = new(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1), default);

    public Vec3 Vector(Vec3 v) => (v.X * X) + (v.Y * Y) + (v.Z * Z);

    public Vec3 Point(Vec3 p) => Vector(p) + Origin;

    /// <summary>The map that does <paramref name="first"/>, then this.</summary>
    public Affine3 After(Affine3 first) =>
        new(Vector(first.X), Vector(first.Y), Vector(first.Z), Point(first.Origin));

    /// <summary>
    /// Object coordinates to world coordinates by the arbitrary axis algorithm (DXF reference, "Object coordinate systems"):
    /// near the world z axis, by 1/64, X = Y_world x N, else X = Z_world x N.
    /// </summary>
    public static Affine3 ObjectFrame(Vec3 normal)
    {
        const double Near = 1.0 / 64;
        var x = Math.Abs(normal.X) < Near && Math.Abs(normal.Y) < Near
            ? Vec3.Cross(new(0, 1, 0), normal) : Vec3.Cross(new(0, 0, 1), normal);
        x = (1 / x.Length) * x;
        return new(x, Vec3.Cross(normal, x), normal, default);
    }

    /// <summary>Scale, then turn about z, then shift.</summary>
    public static Affine3 Placed(Vec3 scale, double turnDegrees, Vec3 shift)
    {
        var (s, c) = Degrees.SinCos(turnDegrees);
        return new(scale.X * new Vec3(c, s, 0), scale.Y * new Vec3(-s, c, 0), new(0, 0, scale.Z), shift);
    }
}

/// <summary>Angles as the format writes them.</summary>
internal static class Degrees
{
    /// <summary>Sine and cosine, exact at quarter turns so that right angles stay right.</summary>
    public static (double Sin, double Cos) SinCos(double degrees)
    {
        var turned = Math.IEEERemainder(degrees, 360);
        return turned switch
        {
            0 => (0, 1),
            90 => (1, 0),
            -90 => (-1, 0),
            180 or -180 => (0, -1),
            _ => Math.SinCos(turned * Math.PI / 180),
        };
    }

    /// <summary>Counter-clockwise angle from one direction to another, above 0 and at most 360.</summary>
    public static double Sweep(double from, double to)
    {
        var sweep = (to - from) % 360;
        return sweep <= 0 ? sweep + 360 : sweep;
    }
}
