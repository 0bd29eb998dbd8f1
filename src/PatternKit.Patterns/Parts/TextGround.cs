using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using static System.FormattableString;

namespace PatternKit.Patterns.Parts;

/// <summary>Whether letters stand on the metal of the features before them, or are sunk into it, from the side that they are set for.</summary>
internal static class TextGround
{
    private const double Chord_mm = 0.01;
    private const double Noise_mm = 1e-6;

    /// <summary>What is wrong, with the place of a letter, or null.</summary>
    /// <param name="text">A feature of letters.</param>
    /// <param name="before">Features in order.</param>
    internal static string? Problem(Feature text, ImmutableArray<Feature> before)
    {
        var solids = FeatureSolid.Of([.. before], Chord_mm);
        var region = PlanRegion.EvenOdd(text.Loops, Chord_mm);
        foreach (var piece in region.Pieces())
        {
            var at = piece.InnerPoint;
            var over = solids.Select((s, k) => (k, s.Column(Enumerable.Range(0, s.Prisms.Length).Where(n => s.Prisms[n].Region.Contains(at)), at)));
            if (Problem(text, FeatureStack.Column(before, over, at), at) is { } problem)
                return Invariant($"the letter at ({at.X:0.##}, {at.Y:0.##}) mm {problem}");
        }

        return null;
    }

    private static string? Problem(Feature text, ImmutableArray<Span> metal, Vec2 at)
    {
        if (metal.IsEmpty) return "has no metal of the parts before it there.";
        var (low, high) = (metal[0].Low.At(at), metal[^1].High.At(at));
        var (from, to) = text.Text!.Side == TextSide.Top ? (text.Low_mm - high, text.High_mm - high) : (low - text.High_mm, low - text.Low_mm);
        var thickness = high - low;
        var stands = text.Cut == CutKind.None
            ? from <= Noise_mm && to > Noise_mm && -from <= thickness + Noise_mm
            : from < -Noise_mm && to >= -Noise_mm && -from < thickness - Noise_mm;
        return stands ? null : Invariant($"spans z = {text.Low_mm:0.###} to {text.High_mm:0.###} mm, where the metal reaches from {low:0.###} to {high:0.###} mm.");
    }
}
