using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Pieces;

/// <summary>What is to be known of a body whose cuts are planned.</summary>
/// <param name="Plan">Its plan.</param>
/// <param name="Firm">Where it is thick enough for dovetails, and they are in nothing's way.</param>
/// <param name="Surfaces">Heights of its upper and lower side over a place; equal where there is nothing.</param>
/// <param name="OnLattice">Puts a part of the plan onto the lattice of its mesh.</param>
internal sealed record CuttableBody(PlanRegion Plan, PlanRegion Firm, Func<Vec2, (double Top, double Bottom)> Surfaces, Func<PlanRegion, PlanRegion> OnLattice)
{
    /// <summary>A half, or a plate with what stands on it.</summary>
    /// <param name="mould">The half.</param>
    /// <param name="kept">What neither cuts nor dovetails may meet.</param>
    /// <param name="sizes">Of the dovetails.</param>
    public static CuttableBody Of(HalfMould mould, PlanRegion kept, DovetailSizes sizes) => new(mould.Footprint, mould.AtLeast(sizes.LeastHeight_mm).Difference(kept), mould.Surfaces, mould.OnLattice);
}
