using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Feeding;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Gating;

/// <summary>What a gating bar leaves in the sand.</summary>
public enum BarKind
{
    /// <summary>The way down, with the basin at its top.</summary>
    Sprue,

    /// <summary>The hollow under the sprue, where it is a body of its own.</summary>
    Well,

    /// <summary>The way along the casting; the well is part of it where both lie in the drag.</summary>
    Runner,

    /// <summary>The way into the casting.</summary>
    Ingate,

    /// <summary>What gives up its metal to a section of the casting that freezes late.</summary>
    Feeder,
}

/// <summary>A section of a bar, measured on its mesh.</summary>
/// <param name="Name">"foot of the sprue", "across".</param>
/// <param name="Region">In the plane of the section, millimetres: across and away from the joint, or in plan.</param>
/// <param name="Reckoned_mm2">The area that it was to have.</param>
/// <param name="At_mm">A place of the plane in the mould, pattern millimetres.</param>
/// <param name="Normal">Square to the plane, a unit vector.</param>
public sealed record BarSectionCut(string Name, PlanRegion Region, double Reckoned_mm2, Vec3 At_mm, Vec3 Normal);

/// <summary>A face of a bar away from the joint; the face of a deeper part is left out of it.</summary>
/// <param name="Region">In plan, before draft.</param>
/// <param name="Depth_mm">From the joint.</param>
public sealed record BarFace(PlanRegion Region, double Depth_mm);

/// <summary>One gating bar.</summary>
/// <param name="Kind">What it leaves.</param>
/// <param name="Body">The printable body.</param>
/// <param name="Plan">Its outline seen from above, pattern millimetres.</param>
/// <param name="Cuts">The sections that were reckoned.</param>
/// <param name="Faces">What it is drafted from; none of a sprue that stands, which is turned.</param>
public sealed record GatingBar(BarKind Kind, KitBody Body, PlanRegion Plan, ImmutableArray<BarSectionCut> Cuts, ImmutableArray<BarFace> Faces)
{
    /// <summary>Whether it is open at the top of the cope.</summary>
    public bool IsOpen => Kind == BarKind.Feeder || (Kind == BarKind.Sprue && Faces.IsEmpty);
}

/// <summary>The gating of a job.</summary>
/// <param name="Reckoning">All values on the way, with rules and sources.</param>
/// <param name="Metal">Weights.</param>
/// <param name="Clearance_mm">Sand between runner and casting.</param>
/// <param name="Count">Number of ingates.</param>
/// <param name="Bars">The bodies, sprue first; empty where there is no room for an ingate.</param>
/// <param name="Findings">What the user should know about it.</param>
public sealed record GatingPlan(
    GatingReckoning Reckoning,
    PouredMetal Metal,
    Sourced<double> Clearance_mm,
    Sourced<int> Count,
    ImmutableArray<GatingBar> Bars,
    ImmutableArray<Finding> Findings)
{
    /// <summary>Height of the joint, pattern millimetres.</summary>
    public double Joint_mm { get; init; }

    /// <summary>How the mould stands.</summary>
    public required PouringPosition Position { get; init; }

    /// <summary>Level of the metal in the basin or cup, along the way that is up.</summary>
    public double Level_mm => Position.Gate_mm + Reckoning.Head_mm.Value;

    /// <summary>Where the metal enters the casting, pattern millimetres, from the sprue outward: on the outline at the joint, half the depth of an ingate from it.</summary>
    public ImmutableArray<Vec3> Enters_mm { get; init; } = [];

    /// <summary>Which of several castings each ingate fills, in the same order; empty for one casting.</summary>
    public ImmutableArray<int> Castings { get; init; } = [];

    /// <summary>The same with feeders, whose metal is poured too, those cut by hand included.</summary>
    /// <param name="feeding">The feeders; null for none.</param>
    /// <param name="alloy">The metal.</param>
    /// <param name="tables">Losses.</param>
    internal GatingPlan With(FeedingPlan? feeding, Alloy alloy, GatingTables tables) => feeding is not { Metal_mm3: > 0 } ? this : this with
    {
        Bars = [.. Bars, .. feeding.Bodies],
        Metal = PouredMetal.Of(Metal.Casting_kg, Bars.Sum(b => b.Body.AsPrinted.Volume()) + feeding.Metal_mm3, alloy, tables),
    };

    /// <summary>Lengths of the runner to each ingate from the one before, to the first from the sprue; empty where no bars are made.</summary>
    public ImmutableArray<double> Runs_mm { get; init; } = [];
}
