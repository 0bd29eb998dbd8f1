using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Pouring;

/// <summary>
/// What the metal presses the halves of a mould on edge apart with: at a depth the pressure is the same through the whole thickness of the casting, so that all that counts is the plan of
/// casting and bars at the joint. A core counts as metal: it hands the pressure on.
/// </summary>
internal static class ThrustOfMetal
{
    /// <summary>The thrust in a mould.</summary>
    /// <param name="mould">What is poured.</param>
    /// <param name="gating">How it stands, and how high the metal.</param>
    /// <param name="metal_kg_m3">Density of the liquid.</param>
    /// <param name="factor">Of the clamps.</param>
    public static JointThrust Of(PouredMould mould, GatingPlan gating, double metal_kg_m3, Sourced<double> factor)
    {
        var wetted = PlanRegion.Union([mould.Cavity, mould.Loose, mould.BarPlan(MouldHalf.Cope), mould.BarPlan(MouldHalf.Drag), mould.Feeding?.CutOnJoint ?? PlanRegion.Empty]);
        var (up, level) = (gating.Position.Up.Direction.Plan, gating.Level_mm);
        var m = PlanMoments.Of(wetted, up);
        var lowest = wetted.Rings().SelectMany(r => r).Min(p => Vec2.Dot(p, up));
        return JointThrust.Over(m.Area, (level * m.Area) - m.First, (level * level * m.Area) - (2 * level * m.First) + m.Second, level - lowest, metal_kg_m3, factor);
    }
}
