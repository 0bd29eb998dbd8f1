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

    /// <summary>Those of the features that add metal.</summary>
    internal static TurnedHeights Of(IReadOnlyList<CastFeature> features, double scale, double rapping_mm, double chordTolerance_mm)
    {
        var turned = features.Where(f => !f.Removes && f.Feature.Turned is not null).ToList();
        var upright = turned.Where(f => f.Feature.Turned!.Axis == Geometry.Columns.TurnedAxis.Z).ToList();
        var corners = CastFeature.MovedProfiles(upright, scale, rapping_mm, chordTolerance_mm)
            .Zip(upright, (profile, f) => profile.Rings().SelectMany(r => r).Select(v => (scale * f.Feature.Turned!.At_mm.Z) + v.X));
        return new([.. turned.Except(upright).Select(f => scale * f.Feature.Turned!.At_mm.Z).Distinct().Order()], [.. corners.SelectMany(c => c).Distinct().Order()]);
    }
}
