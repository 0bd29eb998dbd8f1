using System.Collections.Immutable;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>Heights at which turned features may be widest, and so may part, pattern millimetres.</summary>
/// <param name="Axes">Of the axes of lying ones.</param>
/// <param name="Corners">Of the corners of the profiles of upright ones.</param>
public sealed record TurnedHeights(ImmutableArray<double> Axes, ImmutableArray<double> Corners)
{
    /// <summary>Of the axes of cored cuts that lie: a core parts with the mould.</summary>
    public ImmutableArray<double> Cores { get; init; } = [];

    /// <summary>Those of the bodies that add metal.</summary>
    internal static TurnedHeights Of(IEnumerable<CastTurned> bodies, double scale)
    {
        var metal = bodies.Where(b => !b.Removes).ToList();
        var corners = metal.Where(b => !b.Frame.Lies).SelectMany(b => b.Profile.Rings().SelectMany(r => r).Select(v => (scale * b.Frame.At.Z) + v.X));
        return new([.. metal.Where(b => b.Frame.Lies).Select(b => scale * b.Frame.At.Z).Distinct().Order()], [.. corners.Distinct().Order()]);
    }
}
