using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Pouring;

/// <summary>What is needed between pattern and pour, other than gating: forces, flask, sand, melt, vents, and how long to wait after.</summary>
/// <param name="Head_mm">Metal level in the basin above the joint, of a mould on edge above the ingates.</param>
/// <param name="Metal_kg_m3">Density of the metal as it is poured.</param>
/// <param name="Lift">What lifts the cope; null of a mould on edge.</param>
/// <param name="Balance">Lift against what holds; null with it.</param>
/// <param name="Thrust">What presses the halves of a mould on edge apart; null of one that lies flat.</param>
/// <param name="Flask">The flask that it goes into.</param>
/// <param name="Sand">Sand in it.</param>
/// <param name="Melt">Crucible and hands.</param>
/// <param name="Vents">Where the cope is pricked.</param>
/// <param name="ShakeOut">How long the casting stays in the sand.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record PourPlan(
    Sourced<double> Head_mm, Sourced<double> Metal_kg_m3, CopeLift? Lift, CopeBalance? Balance, JointThrust? Thrust, FlaskPlan Flask, SandPlan Sand, MeltPlan Melt, VentPlan Vents, ShakeOut ShakeOut,
    ImmutableArray<Finding> Findings)
{
    /// <summary>The boards that back the halves of a mould on edge; null of one that lies flat.</summary>
    public BackingBoard? Board { get; init; }
}

/// <summary>The space between the roof of the cavity and the level of the metal, mm³: what presses on the cope's sand, in millimetres of metal over every place of the plan.</summary>
/// <param name="Casting_mm3">Over the cope half of the casting, by its facets, and over hollows of the drag half that the cope's sand hangs into; not over the feet of open feeders.</param>
/// <param name="Bars_mm3">Over runner and ingates that stand in the cope.</param>
/// <param name="Covered_mm3">Over what lies in the drag under the flat face of the cope.</param>
/// <param name="Plan_mm2">Plan of all that.</param>
/// <param name="Cores_N">Lift of the cores that the cope holds down.</param>
public sealed record CopeLift(double Casting_mm3, double Bars_mm3, double Covered_mm3, double Plan_mm2, double Cores_N)
{
    /// <summary>All of it.</summary>
    public double Under_mm3 => Casting_mm3 + Bars_mm3 + Covered_mm3;
}

/// <summary>The flask: what it takes at the least, and the one of the shop that does.</summary>
/// <param name="Length_mm">Least inside length, along x.</param>
/// <param name="Width_mm">Least inside width, along y.</param>
/// <param name="Cope_mm">Least depth of the upper half.</param>
/// <param name="Drag_mm">Least depth of the lower half.</param>
/// <param name="Wall_mm">Sand between pattern or bars and the wall.</param>
/// <param name="Above_mm">Sand above the casting.</param>
/// <param name="Below_mm">Sand below it.</param>
/// <param name="Middle_mm">Plan place of its middle.</param>
/// <param name="Owned">The smallest of the shop's that does; null where none does, or none is listed.</param>
/// <param name="IsTurned">Whether its length lies along y.</param>
/// <param name="Listed">How many flasks the shop lists.</param>
public sealed record FlaskPlan(
    double Length_mm, double Width_mm, double Cope_mm, double Drag_mm, Sourced<double> Wall_mm, Sourced<double> Above_mm, Sourced<double> Below_mm, Vec2 Middle_mm,
    Flask? Owned, bool IsTurned, int Listed)
{
    /// <summary>Inside sizes of what is taken, along x and y: the shop's flask, or the least.</summary>
    public (double X_mm, double Y_mm) Inside => Owned is null ? (Length_mm, Width_mm) : IsTurned ? (Owned.Width_mm, Owned.Length_mm) : (Owned.Length_mm, Owned.Width_mm);

    /// <summary>Depth of the upper half that is taken.</summary>
    public double TakenCope_mm => Owned?.Cope_mm ?? Cope_mm;

    /// <summary>Depth of the lower half that is taken.</summary>
    public double TakenDrag_mm => Owned?.Drag_mm ?? Drag_mm;

    /// <summary>Its inside in plan.</summary>
    public PlanRegion Plan => PlanRegion.Rectangle(Middle_mm - (0.5 * new Vec2(Inside.X_mm, Inside.Y_mm)), Middle_mm + (0.5 * new Vec2(Inside.X_mm, Inside.Y_mm)));
}

/// <summary>Sand of a mould, rammed.</summary>
/// <param name="CopeDepth_mm">How deep it stands in the upper half: to the level of the metal, or to the edge of the flask where that is lower.</param>
/// <param name="Cope_mm3">In the upper half, patterns and bars taken out.</param>
/// <param name="Drag_mm3">In the lower half.</param>
/// <param name="Density_kg_m3">Rammed.</param>
/// <param name="Loose_kg_m3">Shovelled.</param>
/// <param name="Skin_mm2">Of the patterns, where the sand touches them.</param>
/// <param name="Facing_mm">Thickness of the facing sand on it.</param>
/// <param name="Core_kg">Core sand.</param>
public sealed record SandPlan(double CopeDepth_mm, double Cope_mm3, double Drag_mm3, Quoted Density_kg_m3, Quoted Loose_kg_m3, double Skin_mm2, Sourced<double> Facing_mm, double Core_kg)
{
    /// <summary>In the upper half.</summary>
    public double Cope_kg => Cope_mm3 * 1e-9 * Density_kg_m3.Value;

    /// <summary>In the lower half.</summary>
    public double Drag_kg => Drag_mm3 * 1e-9 * Density_kg_m3.Value;

    /// <summary>In both.</summary>
    public double Total_kg => Cope_kg + Drag_kg;

    /// <summary>Of that, facing.</summary>
    public double Facing_kg => Math.Min(Total_kg, Skin_mm2 * Facing_mm.Value * 1e-9 * Density_kg_m3.Value);

    /// <summary>The rest.</summary>
    public double Backing_kg => Total_kg - Facing_kg;

    /// <summary>Both as they are shovelled, litres.</summary>
    public double Loose_litre => Total_kg / Loose_kg_m3.Value * 1000;
}

/// <summary>The melt against crucibles and hands.</summary>
/// <param name="Metal">Casting, gating, losses.</param>
/// <param name="Liquid_litre">Volume of the melt.</param>
/// <param name="Crucible">The smallest of the shop's that takes it; null where none does, or none is listed.</param>
/// <param name="Useful_litre">What that one takes, or the largest listed; null where none is.</param>
/// <param name="Lift_kg">Most metal that one person lifts.</param>
/// <param name="Listed">How many crucibles the shop lists.</param>
public sealed record MeltPlan(PouredMetal Metal, double Liquid_litre, Crucible? Crucible, Sourced<double>? Useful_litre, Sourced<double> Lift_kg, int Listed);

/// <summary>Why a vent is where it is.</summary>
public enum VentPlace
{
    /// <summary>A high place of the cope, or of the outline at the joint of a mould on edge.</summary>
    HighPlace,

    /// <summary>The place farthest from the ingates and all vents before it.</summary>
    FarEnd,

    /// <summary>The print of a core, whose gas leaves there.</summary>
    CorePrint,
}

/// <summary>A vent.</summary>
/// <param name="At_mm">Plan place, pattern millimetres.</param>
/// <param name="Place">Why there.</param>
/// <param name="Roof_mm">Height of the cavity's roof under it; NaN of a core print.</param>
/// <param name="Depth_mm">How deep the wire goes, from the top of the cope's sand; NaN of a core print.</param>
/// <param name="Core">Name of the core; empty for others.</param>
public sealed record Vent(Vec2 At_mm, VentPlace Place, double Roof_mm, double Depth_mm, string Core = "");

/// <summary>The vents of a mould.</summary>
/// <param name="Vents">The high places first, then by how far they are from the ingates, then those of cores.</param>
/// <param name="Wire_mm">Diameter of the wire.</param>
/// <param name="Spacing_mm">No place of the cavity is farther from a vent or an ingate.</param>
/// <param name="Short_mm">Sand left under a vent.</param>
/// <param name="Choke_mm2">Area of the choke; 0 where it is not known.</param>
/// <param name="Feeders_mm2">Area of open feeders at their narrowest: air leaves there as it does by vents.</param>
public sealed record VentPlan(ImmutableArray<Vent> Vents, Sourced<double> Wire_mm, Sourced<double> Spacing_mm, Sourced<double> Short_mm, double Choke_mm2, double Feeders_mm2)
{
    /// <summary>Those pricked through the cope.</summary>
    public ImmutableArray<Vent> Pricked => [.. Vents.Where(v => v.Place != VentPlace.CorePrint)];

    /// <summary>Area of all that are pricked.</summary>
    public double Pricked_mm2 => Pricked.Length * Flow.Circle_mm2(Wire_mm.Value);

    /// <summary>Of all openings for air: what is pricked, and open feeders.</summary>
    public double Area_mm2 => Pricked_mm2 + Feeders_mm2;
}

/// <summary>How long a casting stays in the sand.</summary>
/// <param name="Section_mm">Its thickest section: the largest ball that fits into the metal between its skins and cores.</param>
/// <param name="Wait_minutes">From the pour.</param>
/// <param name="Solid_s">When that section is solid, at the latest; null where the filling is not reckoned.</param>
public sealed record ShakeOut(double Section_mm, Sourced<double> Wait_minutes, Sourced<double>? Solid_s);
