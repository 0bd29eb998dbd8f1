using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Filling;

/// <summary>A finished cavity, from which gating and filling are reckoned for any way of pouring it.</summary>
/// <param name="Alloy">The metal.</param>
/// <param name="Sand">The sand.</param>
/// <param name="Tables">Rules.</param>
/// <param name="Cope">Upper half without prints.</param>
/// <param name="Drag">Lower half without prints.</param>
/// <param name="Bodies">Their meshes.</param>
/// <param name="Volume_mm3">Metal in the mould, gating apart.</param>
/// <param name="Casting_kg">The raw casting.</param>
/// <param name="Frame">From job to pattern.</param>
/// <param name="Draft">Of the bars, radians.</param>
/// <param name="Tolerance">Of the meshes.</param>
/// <param name="Prints">Plan of the cores with their prints.</param>
/// <param name="Cored_mm2">Surface that cores add to the casting.</param>
/// <param name="Cavity">On cells; waits until it is read.</param>
/// <param name="InTheSand">What the shape does to sand and metal, thin metal included; waits until it is looked for.</param>
/// <param name="Castings">Boxes in plan of several castings in one mould; none for one.</param>
internal sealed record PouringStage(
    Alloy Alloy, Sand Sand, FoundryTables Tables, HalfMould Cope, HalfMould Drag, ImmutableArray<KitBody> Bodies, double Volume_mm3, double Casting_kg, PatternFrame Frame, double Draft,
    MeshingTolerance Tolerance, PlanRegion Prints, double Cored_mm2, Func<CastingGrid> Cavity, Func<ImmutableArray<Finding>> InTheSand,
    ImmutableArray<(Vec2 Low, Vec2 High)> Castings)
{
    /// <summary>The gating of a job, and how it fills; null where it wants none, or where the heat of the metal is not known.</summary>
    /// <param name="job">The job; only what it says of gating matters.</param>
    /// <exception cref="Exchange.InputException">Its head or pouring temperature cannot be.</exception>
    public (GatingPlan? Gating, FillingPlan? Filling) Reckon(Job job)
    {
        var gating = GatingBuilder.Build(job, Alloy, Tables, Cope, Drag, Bodies, Volume_mm3, Casting_kg, Frame, Draft, Tolerance, Prints, Cored_mm2, Cavity, Castings);
        return (gating, gating is null ? null : FillingBuilder.Build(job, Alloy, Sand, Tables, Cavity(), gating, Volume_mm3, Frame, Castings, InTheSand()));
    }
}
