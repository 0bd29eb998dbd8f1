using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Cores;

/// <summary>A core with its prints, read along the draw.</summary>
internal sealed class CoreColumns(PlannedCore core)
{
    /// <summary>Profile of the core with its prints.</summary>
    public RoundProfile Profile { get; } = core.Profile;

    /// <summary>Where the core is over a place of the plan, ascending.</summary>
    public IEnumerable<(double Low, double High)> Over(Vec2 p)
    {
        var axis = core.Axis;
        if (!axis.Lies) return Profile.Thicker((p - axis.At.Plan).Length).Select(s => (s.From + axis.At.Z, s.To + axis.At.Z));
        var along = axis.Along(new(p.X, p.Y, axis.At.Z));
        var radius = Profile.Radius(along);
        var across = axis.Off(new(p.X, p.Y, axis.At.Z));
        if (across >= radius) return [];
        var h = Math.Sqrt((radius * radius) - (across * across));
        return [(axis.At.Z - (core.Within == MouldHalf.Cope ? 0 : h), axis.At.Z + (core.Within == MouldHalf.Drag ? 0 : h))];
    }
}
