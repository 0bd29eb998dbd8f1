using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Feeding;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Pouring;

/// <summary>What is poured, as the mould has it.</summary>
/// <param name="Cope">Upper half without prints.</param>
/// <param name="Drag">Lower half without prints.</param>
/// <param name="Metal">Meshes of the halves without prints.</param>
/// <param name="Patterns">Meshes of the halves as they are moulded, prints included.</param>
/// <param name="Pockets">What is sunk into the joint faces of the patterns, and of the metal's meshes where they are the same.</param>
/// <param name="Gating">The bars, if any.</param>
/// <param name="Feeding">The feeders, if any: those with a body are bars too.</param>
/// <param name="Cores">The cores.</param>
/// <param name="Prints">Their plan.</param>
/// <param name="Loose">Plan of what is drawn sideways.</param>
/// <param name="Casting_kg">The raw casting.</param>
/// <param name="Lattice">Of the halves.</param>
/// <param name="Frame">From job to pattern.</param>
/// <param name="Thickness">How thick the metal is; waits until it is known.</param>
internal sealed record PouredMould(
    HalfMould Cope, HalfMould Drag, ImmutableArray<KitBody> Metal, ImmutableArray<KitBody> Patterns, JointPockets Pockets, GatingPlan? Gating, FeedingPlan? Feeding, ImmutableArray<KitCore> Cores, PlanRegion Prints, PlanRegion Loose,
    double Casting_kg, Lattice Lattice, PatternFrame Frame,
    Func<LocalThickness> Thickness)
{
    /// <summary>B of t = B M², as the filling is reckoned with it; null where it is not reckoned.</summary>
    public Sourced<double>? Constant_s_mm2 { get; init; }

    /// <summary>Height of the joint, of a joint that is not level that around it.</summary>
    public double Joint_mm => Cope.Joint_mm;

    /// <summary>Height of the casting above the joint.</summary>
    public double Above_mm => Cope.IsEmpty ? 0 : Metal.Max(b => b.InMould.Bounds().High.Z) - Joint_mm;

    /// <summary>Metal of the upper half at the joint.</summary>
    public PlanRegion CopeAtJoint => AtJoint(Cope);

    /// <summary>Metal of the lower half at the joint.</summary>
    public PlanRegion DragAtJoint => AtJoint(Drag);

    /// <summary>The cavity in plan, bars left out.</summary>
    public PlanRegion Cavity => Cope.IsEmpty ? Drag.Covered : Drag.IsEmpty ? Cope.Covered : Cope.Covered.Union(Drag.Covered);

    /// <summary>The mesh of a half's metal; null where it has none.</summary>
    public TriangleMesh? MetalOf(MouldHalf half) => Metal.FirstOrDefault(b => b.Half == half)?.InMould;

    /// <summary>What stands out of the halves and is drawn sideways.</summary>
    public IEnumerable<KitBody> LooseMetal => Metal.Where(b => b.InMould != MetalOf(b.Half));

    /// <summary>The bars that lie in a half, or that stand through it.</summary>
    public IEnumerable<GatingBar> BarsIn(MouldHalf half) => (Gating?.Bars ?? []).Where(b => b.Body.Half == half);

    /// <summary>Plan of runner, ingates and well in a half.</summary>
    public PlanRegion BarPlan(MouldHalf half) => PlanRegion.Union(BarsIn(half).Where(b => !b.IsOpen).Select(b => b.Plan));

    /// <summary>What patterns and bars leave in the sand of a half, mm³; pockets of the joint faces are closed before the sand is rammed.</summary>
    public double Cavity_mm3(MouldHalf half) =>
        Patterns.Where(b => b.Half == half).Sum(b => b.AsPrinted.Volume()) + (Patterns.Any(b => b.Half == half) ? Pockets.Of(half).Sum(p => p.Region.Area * p.Depth) : 0) + BarsIn(half).Sum(b => b.Body.AsPrinted.Volume());

    /// <summary>Height of the roof over a place of the cavity: of the cope half, or the flat face of the cope.</summary>
    public double Roof_mm(Vec2 p) => !Cope.IsEmpty && Cope.Footprint.Contains(p) ? Cope.Upper.At(p).Height : Joint_mm;

    // A hole whose sand is that of the other half is no metal.
    private static PlanRegion AtJoint(HalfMould half)
    {
        if (half.IsEmpty) return PlanRegion.Empty;
        var (standing, covered) = (half.Standing, half.Covered);
        return ReferenceEquals(standing, covered) ? standing : standing.Intersection(covered);
    }
}
