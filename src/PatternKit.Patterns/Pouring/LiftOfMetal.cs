using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Pouring;

/// <summary>
/// What the metal presses on the cope with: over every place of the plan where the cope's sand lies on metal, the head from there up to the level in the basin. Of the
/// casting the facets are summed as they are written, less the feet of open feeders: over these there is metal up to the air and no sand; what a feeder widens upward presses its sand down and is left out. A core counts as metal here, and its lift comes on top, as if metal got under it: never too little. The sand
/// over a loose piece presses on the cope where it lies in the drag. Sprue and basin widen upward, so that what they press on is left out, which is never too little either.
/// </summary>
internal static class LiftOfMetal
{
    /// <summary>The lift of a mould.</summary>
    /// <param name="mould">What is poured.</param>
    /// <param name="head_mm">Level of the metal above the joint.</param>
    public static CopeLift Of(PouredMould mould, double head_mm)
    {
        var (joint, level) = (mould.Joint_mm, mould.Joint_mm + head_mm);
        var inCopeHalf = mould.CopeAtJoint.Union(mould.BarPlan(MouldHalf.Cope));
        var covered = mould.DragAtJoint.Union(mould.BarPlan(MouldHalf.Drag)).Difference(inCopeHalf);
        var bars = mould.BarsIn(MouldHalf.Cope).Where(b => !b.IsOpen).Sum(b => SpaceUnderLevel.Of(b.Body.InMould, level));
        // No sand lies over the foot of the sprue, on the runner or at the joint.
        var (foot_mm2, footHead_mm) = mould.Gating is { Bars.IsEmpty: false } g ? (g.Reckoning.SprueBase_mm2, g.Reckoning.SprueBaseHead_mm) : (0, 0);
        var inCope = mould.Gating?.Reckoning.Input.RunnerInCope == true;
        var cores = mould.Cores.Where(c => c.Axes[0].Lies || c.Prints.Any(p => p.IsHigh)).Sum(c => c.Count * Math.Max(0, c.Load.Lift_N));
        var feet = (mould.Feeding?.Sections ?? []).Where(s => s.Body is not null).Select(s => (Area: Flow.Circle_mm2(s.Foot_mm!.Value), Height: s.Holds[0].Low_mm)).ToArray();
        // Where nothing is over one of them, what is taken off what was summed leaves a little less than none by rounding to the lattice.
        return new(
            Math.Max(0, (mould.MetalOf(MouldHalf.Cope) is { } cope ? SpaceUnderLevel.Of(cope, level) : 0) + Hollows(mould, level) + mould.LooseMetal.Sum(b => SpaceUnderLevel.Of(b.InMould, level)) - feet.Sum(f => f.Area * (level - f.Height))),
            Math.Max(0, bars - (inCope ? foot_mm2 * footHead_mm : 0)),
            Math.Max(0, Covered(mould, covered, level) - (inCope ? 0 : foot_mm2 * footHead_mm)),
            inCopeHalf.Area + covered.Area - foot_mm2 - feet.Sum(f => f.Area),
            cores);
    }

    /// <summary>Over what lies in the drag under the face of the cope.</summary>
    private static double Covered(PouredMould mould, PlanRegion covered, double level)
    {
        if (!mould.Cope.IsCarved) return covered.Area * (level - mould.Joint_mm);
        // The joint's slopes are small over so narrow a rim; a hundredth of a millimetre of head is nothing.
        return PlanIntegral.Of(p => level - mould.Cope.JointAt(p), mould.Cope.OnLattice(covered), [], mould.Lattice, Math.Max(1e-9, 0.01 * covered.Area), 5);
    }

    /// <summary>Over hollows of the drag half, which the cope's sand hangs into: all that looks up below the joint, but for what is sunk into its face.</summary>
    private static double Hollows(PouredMould mould, double level)
    {
        if (mould.Drag.IsCarved || mould.MetalOf(MouldHalf.Drag) is not { } drag) return 0;
        var sunk = mould.Metal == mould.Patterns ? mould.Pockets.Of(MouldHalf.Drag).Sum(p => p.Region.Area * (level - mould.Joint_mm + p.Depth)) : 0;
        return SpaceUnderLevel.Of(drag, level, mould.Joint_mm) - sunk;
    }
}
