using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Feeding;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Impressions;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Filling;

/// <summary>A finished cavity, from which gating, filling and feeding are reckoned for any way of pouring it.</summary>
/// <param name="Alloy">The metal.</param>
/// <param name="Sand">The sand.</param>
/// <param name="Tables">Rules.</param>
/// <param name="Cope">Upper half without prints.</param>
/// <param name="Drag">Lower half without prints.</param>
/// <param name="MadeCope">Upper half as it is made, with prints and fillets.</param>
/// <param name="Bodies">Meshes of the halves without prints.</param>
/// <param name="Volume_mm3">Metal in the mould, gating apart.</param>
/// <param name="Casting_kg">The raw casting.</param>
/// <param name="Frame">From job to pattern.</param>
/// <param name="Draft">Of the bars, radians.</param>
/// <param name="Tolerance">Of the meshes.</param>
/// <param name="Prints">Plan of the cores with their prints.</param>
/// <param name="Cored_mm2">Surface that cores add to the casting.</param>
/// <param name="Cavity">On cells; waits until it is read.</param>
/// <param name="InTheSand">What the shape does to sand and metal, thin metal included; waits until it is looked for.</param>
/// <param name="Castings">Several castings in one mould; none for one.</param>
internal sealed record PouringStage(
    Alloy Alloy, Sand Sand, FoundryTables Tables, HalfMould Cope, HalfMould Drag, HalfMould MadeCope, ImmutableArray<KitBody> Bodies, double Volume_mm3, double Casting_kg, PatternFrame Frame, double Draft,
    MeshingTolerance Tolerance, PlanRegion Prints, double Cored_mm2, Func<CastingGrid> Cavity, Func<ImmutableArray<Finding>> InTheSand,
    ImmutableArray<CastingPlace> Castings)
{
    /// <summary>The gating of a job, how it fills and how it is fed; nothing where it wants none, gating alone where the heat of the metal is not known.</summary>
    /// <param name="job">The job; only what it says of gating and feeders matters.</param>
    /// <exception cref="Exchange.InputException">Its head or pouring temperature cannot be.</exception>
    public (GatingPlan? Gating, FillingPlan? Filling, FeedingPlan? Feeding) Reckon(Job job)
    {
        if (Gated([]) is not { } gating) return (null, null, null);
        if (CastingHeat.Of(job, Alloy, Sand, Tables, Cavity(), gating.Reckoning.Input.MeanWall_mm, Volume_mm3, Frame, Castings) is not { } heat) return (gating, null, null);
        var feeding = Fed(gating);
        if (feeding is { Metal_mm3: > 0 })
        {
            // What fills the feeders runs through the choke, too. Its bars are wider then, and feeders keep clear of them.
            // Where these find no room, feeders that need their basin would be lost: the first bars stay, and the filling tells what time that takes.
            var fed = Gated(feeding.Holds)!;
            if (!fed.Bars.IsEmpty || gating.Bars.IsEmpty) (gating, feeding) = (fed, Fed(fed));
        }

        gating = gating.With(feeding, Alloy, Tables.Gating);
        return (gating, FillingBuilder.Build(Alloy, Tables, Cavity(), heat, gating, feeding?.Holds ?? [], Volume_mm3, Frame, InTheSand(), Castings), feeding);

        GatingPlan? Gated(ImmutableArray<CavitySlice> feeders) => GatingBuilder.Build(job, Alloy, Tables, Cope, Drag, Bodies, Volume_mm3, Casting_kg, feeders, Frame, Draft, Tolerance, Prints, Cored_mm2, Cavity, Castings);

        FeedingPlan? Fed(GatingPlan with) => FeedingBuilder.Build(job, Alloy, Tables, Cavity(), heat, with, Volume_mm3, Cope, MadeCope, Frame, Draft);
    }
}
