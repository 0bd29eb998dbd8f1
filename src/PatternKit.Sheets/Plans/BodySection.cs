using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Gating;

namespace PatternKit.Sheets.Plans;

/// <summary>A section of a body that is drawn by itself: a level one seen from above, an upright one from the front or the right.</summary>
/// <param name="Name">What is cut.</param>
/// <param name="At">A place of the plane.</param>
/// <param name="Sight">Direction of sight, a unit vector.</param>
/// <param name="Rings">To the right and upward.</param>
internal sealed record BodySection(string Name, Vec3 At, Vec3 Sight, ImmutableArray<ImmutableArray<Vec2>> Rings)
{
    private readonly Box3 box = Rings.SelectMany(r => r).Aggregate(Box3.Empty, (b, p) => b.With(new(p.X, p.Y, 0)));

    /// <summary>Whether it is seen from above.</summary>
    public bool IsLevel => Math.Abs(Sight.Z) > 0.5;

    /// <summary>Lower left corner.</summary>
    public Vec2 Low => box.Low.Plan;

    /// <summary>Upper right corner.</summary>
    public Vec2 High => box.High.Plan;

    /// <summary>Width and height.</summary>
    public Vec2 Size => High - Low;

    /// <summary>The axis that the plane is square to, from 0; null where it is none.</summary>
    public int? Axis => IsLevel ? 2 : Math.Abs(Sight.X) > 0.9999 ? 0 : Math.Abs(Sight.Y) > 0.9999 ? 1 : null;

    /// <summary>Whether it is a circle of many sides, whose width tells all.</summary>
    public bool IsRound => Rings.Length == 1 && Math.Abs(Size.X - Size.Y) < 0.01 * Size.X && Math.Abs(Area(Rings[0]) - (Math.PI / 4 * Size.X * Size.Y)) < 0.01 * Size.X * Size.Y;

    /// <summary>Cuts a body; it must be closed.</summary>
    public static BodySection Of(string name, TriangleMesh mesh, Vec3 at, Vec3 normal)
    {
        // From above, from the front, or from the right where it is cut along the depth.
        var isLevel = Math.Abs(normal.Z) > 0.5;
        var sight = isLevel ? new(0, 0, -1) : normal.Y > 1e-9 || (Math.Abs(normal.Y) <= 1e-9 && normal.X < 0) ? normal : -1 * normal;
        var right = isLevel ? new Vec3(1, 0, 0) : Vec3.Cross(new(0, 0, 1), -1 * sight);
        Vec2 InView(Vec3 p) => new(Vec3.Dot(p, right), isLevel ? p.Y : p.Z);
        return new(name, at, sight, [.. MeshSection.AtPlane(mesh, at, normal).Select(l => l.Select(InView).ToImmutableArray())]);
    }

    /// <summary>The sections of a gating bar that were reckoned, of the body as it is printed.</summary>
    public static ImmutableArray<BodySection> Of(GatingBar bar) =>
        [.. bar.Cuts.Select(c => Of(c.Name, bar.Body.AsPrinted, bar.Body.Printed(c.At_mm), bar.Body.Turned(c.Normal)))];

    /// <summary>How far the plane lies from the lower end of a body along the axis that it is square to; null where it is square to none.</summary>
    public double? FromEnd_mm(Box3 body) => Axis switch { 0 => At.X - body.Low.X, 1 => At.Y - body.Low.Y, 2 => At.Z - body.Low.Z, _ => null };

    private static double Area(ImmutableArray<Vec2> ring) => Math.Abs(ring.Select((p, i) => Vec2.Cross(p, ring[(i + 1) % ring.Length])).Sum()) / 2;
}
