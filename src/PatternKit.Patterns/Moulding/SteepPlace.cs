using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>Where a body came out with less draft than asked, because fillets are crowded there.</summary>
/// <param name="Half">Of the pattern.</param>
/// <param name="At_mm">In the plan of the mould.</param>
public readonly record struct SteepPlace(MouldHalf Half, Vec2 At_mm)
{
    /// <summary>What a facet may lack, radians: rounding to single precision and to the lattice.</summary>
    public const double Slack = 0.05 * Math.PI / 180;

    /// <summary>So often a radius is halved; then there is none.</summary>
    public const int MostTries = 3;

    /// <summary>The steepest place of each body that has too little draft.</summary>
    /// <param name="bodies">Halves of a pattern, loose or on plates.</param>
    /// <param name="asked">The draft asked for.</param>
    public static ImmutableArray<SteepPlace> Of(IEnumerable<KitBody> bodies, double asked) =>
        [.. bodies.Where(b => b.LeastDraft < asked - Slack && b.LeastDraftAt is not null).Select(b => new SteepPlace(b.Half, b.LeastDraftAt!.Value.Plan))];

    /// <summary>A radius where steep places were found along the foot of what rises.</summary>
    /// <param name="table">The series of radii.</param>
    /// <param name="radius_mm">The radius that it had.</param>
    /// <param name="places">Found so far.</param>
    /// <param name="half">The half.</param>
    /// <param name="island">What rises.</param>
    /// <param name="run_mm">How far out its foot is.</param>
    public static double HeldBack(FilletTable table, double radius_mm, ImmutableArray<SteepPlace> places, MouldHalf half, PlanRegion island, double run_mm)
    {
        if (places.IsDefaultOrEmpty || radius_mm == 0) return radius_mm;
        var times = places.Count(p => p.Half == half && island.Geometry.IsWithinDistance(new NetTopologySuite.Geometries.Point(p.At_mm.X, p.At_mm.Y), run_mm + radius_mm));
        return times == 0 ? radius_mm : times >= MostTries ? 0 : Foundry.Fillets.InSeries(table, radius_mm / (1 << times));
    }
}
