using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Columns;

/// <summary>Bodies and directions drawn by lot for the tests of columns.</summary>
internal static class RandomBodies
{
    /// <summary>A direction evenly spread over the sphere.</summary>
    public static readonly Gen<Vec3> Direction = Gen.Select(Gen.Double[-1, 1], Gen.Double[0, 2 * Math.PI], (z, phi) =>
    {
        var (sin, cos) = Math.SinCos(phi);
        var r = Math.Sqrt(1 - (z * z));
        return new Vec3(r * cos, r * sin, z);
    });

    /// <summary>A ball with waves on it, star-shaped about the origin, about 40 mm wide.</summary>
    public static readonly Gen<TriangleMesh> Bumpy = Gen.Select(Gen.Int[12, 40], Gen.Int[8, 30], Gen.Double[0, 0.5], Gen.Double[1, 5], Gen.Double[0, 6],
        (around, rings, height, waves, phase) => Bumps(around, rings, height, waves, phase));

    public static TriangleMesh Bumps(int around, int rings, double height, double waves, double phase) =>
        Shapes.Sphere(1, around, rings).Mapped(p => 20 * (1 + (height * Math.Sin((waves * p.X) + phase) * Math.Cos(waves * 1.7 * p.Y) * Math.Sin((waves * 1.3 * p.Z) + 1))) * p);

    /// <summary>The mesh turned so that z runs along the direction.</summary>
    public static TriangleMesh TurnedTo(this TriangleMesh mesh, Vec3 direction) => mesh.Mapped(DirectionFrame.Along(direction).ToSpace);

    /// <summary>Area of the skin, mm².</summary>
    public static double Area(this TriangleMesh mesh) => mesh.Facets.Sum(f => mesh.AreaNormal(f).Length / 2);
}
