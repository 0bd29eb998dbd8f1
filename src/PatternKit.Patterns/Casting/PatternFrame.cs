using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Casting;

/// <summary>The way of a point from the job to the pattern: contraction about the job's origin, then the bow of a camber.</summary>
/// <param name="Scale">Pattern size over casting size.</param>
/// <param name="Rise_mm">Rise of the bow at mid length, 0 for none.</param>
/// <param name="AlongX">Whether the long axis is x, and the bow goes towards +y; else y and +x.</param>
/// <param name="Start_mm">Where the bow begins along the long axis, pattern millimetres.</param>
/// <param name="Length_mm">Length of the bow.</param>
public sealed record PatternFrame(double Scale, double Rise_mm = 0, bool AlongX = true, double Start_mm = 0, double Length_mm = 0)
{
    /// <summary>Pattern millimetres of a point of the job.</summary>
    public Vec3 ToPattern(Vec3 job)
    {
        var p = Bowed(new Vec2(Scale * job.X, Scale * job.Y), 1);
        return new(p.X, p.Y, Scale * job.Z);
    }

    /// <summary>Job coordinates of a point of the pattern.</summary>
    public Vec3 ToJob(Vec3 pattern)
    {
        var p = Bowed(pattern.Plan, -1);
        return new(p.X / Scale, p.Y / Scale, pattern.Z / Scale);
    }

    /// <summary>
    /// A scaled point with the bow put in: a parabola of the given rise, straight ends. A shear, so areas stay.
    /// </summary>
    internal Vec2 Bowed(Vec2 p, int sign = 1)
    {
        if (Rise_mm == 0) return p;
        var u = ((AlongX ? p.X : p.Y) - Start_mm) / Length_mm;
        var shift = sign * 4 * Rise_mm * u * (1 - u);
        return AlongX ? new(p.X, p.Y + shift) : new(p.X + shift, p.Y);
    }
}
