using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Parts;

/// <summary>How a turned body lies. In its own frame the axis is x and the origin that of its profile.</summary>
/// <param name="Axis">Which way x of its frame runs.</param>
/// <param name="At">Where the origin lies, mm.</param>
public readonly record struct TurnedFrame(TurnedAxis Axis, Vec3 At)
{
    /// <summary>Whether the axis is level.</summary>
    public bool Lies => Axis != TurnedAxis.Z;

    /// <summary>From its frame to that in which it lies: a rotation and a shift.</summary>
    public Vec3 Placed(Vec3 p) => At + Axis switch
    {
        TurnedAxis.X => p,
        TurnedAxis.Y => new Vec3(-p.Y, p.X, p.Z),
        _ => new Vec3(-p.Z, p.Y, p.X),
    };

    /// <summary>Back from that in which it lies to its frame.</summary>
    public Vec3 Local(Vec3 p)
    {
        var q = p - At;
        return Axis switch
        {
            TurnedAxis.X => q,
            TurnedAxis.Y => new Vec3(q.Y, -q.X, q.Z),
            _ => new Vec3(q.Z, q.Y, -q.X),
        };
    }

    /// <summary>The plan place of a way along a level axis and a way across it.</summary>
    public Vec2 Plan(double along, double across) => At.Plan + (Axis == TurnedAxis.X ? new Vec2(along, across) : new(across, along));

    /// <summary>A point's way along the axis.</summary>
    public double Along(Vec3 p) => Axis switch
    {
        TurnedAxis.X => p.X - At.X,
        TurnedAxis.Y => p.Y - At.Y,
        _ => p.Z - At.Z,
    };

    /// <summary>A point's distance from the axis.</summary>
    public double Off(Vec3 p) => Axis switch
    {
        TurnedAxis.X => Math.Sqrt(((p.Y - At.Y) * (p.Y - At.Y)) + ((p.Z - At.Z) * (p.Z - At.Z))),
        TurnedAxis.Y => Math.Sqrt(((p.X - At.X) * (p.X - At.X)) + ((p.Z - At.Z) * (p.Z - At.Z))),
        _ => (p.Plan - At.Plan).Length,
    };

    /// <summary>Rows of the motion back to its frame, lifted onto a bed.</summary>
    internal ImmutableArray<ImmutableArray<double>> ToFrame(double lift) => Axis switch
    {
        TurnedAxis.X => [[1, 0, 0, -At.X], [0, 1, 0, -At.Y], [0, 0, 1, lift - At.Z]],
        TurnedAxis.Y => [[0, 1, 0, -At.Y], [-1, 0, 0, At.X], [0, 0, 1, lift - At.Z]],
        _ => [[0, 0, 1, -At.Z], [0, 1, 0, -At.Y], [-1, 0, 0, At.X + lift]],
    };

    /// <summary>Rows of a shift to the origin, with a half turn about x (y and z −1) or without, and a lift onto the bed.</summary>
    internal static ImmutableArray<ImmutableArray<double>> Rows(Vec3 from, double y, double z, double lift) =>
        [[1, 0, 0, -from.X], [0, y, 0, -y * from.Y], [0, 0, z, lift - (z * from.Z)]];
}
