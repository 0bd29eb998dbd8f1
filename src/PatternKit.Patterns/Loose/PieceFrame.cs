using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Loose;

/// <summary>
/// Where a loose piece sits on its wall, in the frame of its half of the mould (the main draw upward). In its own frame the wall is z = 0 and the piece stands up from it, so that
/// its own draw is that of any drafted body; x runs along the wall, y up it.
/// </summary>
/// <param name="Origin">A point of the drafted wall.</param>
/// <param name="Out">Which way the wall faces, in plan; of length 1.</param>
/// <param name="Lean">Of the wall from the main draw, radians.</param>
internal readonly record struct PieceFrame(Vec3 Origin, Vec2 Out, double Lean)
{
    private Vec3 Along => new(-Out.Y, Out.X, 0);

    private Vec3 Up => new(-Math.Sin(Lean) * Out.X, -Math.Sin(Lean) * Out.Y, Math.Cos(Lean));

    private Vec3 Normal => new(Math.Cos(Lean) * Out.X, Math.Cos(Lean) * Out.Y, Math.Sin(Lean));

    /// <summary>From its own frame to that of the half.</summary>
    public Vec3 Placed(Vec3 p) => Origin + (p.X * Along) + (p.Y * Up) + (p.Z * Normal);

    /// <summary>From that of the half to its own.</summary>
    public Vec3 Local(Vec3 p)
    {
        var q = p - Origin;
        return new(Vec3.Dot(q, Along), Vec3.Dot(q, Up), Vec3.Dot(q, Normal));
    }

    /// <summary>Height in the half's frame, over the origin, of a point of its own.</summary>
    public double Rise(double y, double z) => (y * Math.Cos(Lean)) + (z * Math.Sin(Lean));

    /// <summary>The plan place of the wall at a height of the half's frame, so far along it and out from it.</summary>
    public Vec2 Plan(double along, double height, double outward) => Origin.Plan + (along * Out.Left) + ((outward - ((height - Origin.Z) * Math.Tan(Lean))) * Out);
}
