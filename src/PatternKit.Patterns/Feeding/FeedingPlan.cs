using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;

namespace PatternKit.Patterns.Feeding;

/// <summary>What becomes of the hollow that a section leaves when it freezes after all around it.</summary>
public enum FeedingFate
{
    /// <summary>A feeder stands on it.</summary>
    Fed,

    /// <summary>It freezes hardly later than the rest, or what it lacks is little: it is left to the gates.</summary>
    Left,

    /// <summary>It is too thin for a feeder.</summary>
    Thin,

    /// <summary>A feeder is reckoned, and cut by hand on the joint of a mould on edge.</summary>
    ByHand,

    /// <summary>A feeder is reckoned, but has no place.</summary>
    NoPlace,

    /// <summary>A feeder would be reckoned, but the job wants none.</summary>
    NotWanted,
}

/// <summary>A section that freezes after all around it, and its feeder.</summary>
/// <param name="At_mm">Its middle, job coordinates.</param>
/// <param name="Across_mm">Largest ball in it, as cast.</param>
/// <param name="Modulus_mm">Of the section, in the mould.</param>
/// <param name="Fed_mm3">Metal that freezes with it.</param>
/// <param name="Lacks_mm3">What that lacks when it is solid.</param>
/// <param name="Fate">What becomes of it.</param>
/// <param name="Why">In words.</param>
public sealed record FedSection(Vec3 At_mm, double Across_mm, double Modulus_mm, double Fed_mm3, double Lacks_mm3, FeedingFate Fate, string Why)
{
    /// <summary>Modulus of the walls that it borders, in the mould; null where all around it is as thick.</summary>
    public double? Beside_mm { get; init; }

    /// <summary>How many feeders share the section: of a metal that freezes over a long range several small ones, each with its own part of it; 1 where one feeds it.</summary>
    public int Sharing { get; init; } = 1;

    /// <summary>The feeder that is reckoned; null where none is, or the mould is too low for one.</summary>
    public FeederSize? Size { get; init; }

    /// <summary>Its foot, mm across; null where it has no place.</summary>
    public double? Foot_mm { get; init; }

    /// <summary>Where it stands, in plan, job coordinates; null with it.</summary>
    public Vec2? StandsAt_mm { get; init; }

    /// <summary>How far the section reaches from the foot of its feeder, and how far that feeds, in the mould; null where it has none, or the freezing range is not known.</summary>
    public (double Reach_mm, double Feeds_mm)? Distance { get; init; }

    /// <summary>The chill that would bring it down to what is left to the gates, in place of a feeder; null where it does not stand out by its modulus.</summary>
    public Chill? Chill { get; init; }

    /// <summary>How thick the wall would have to be where it is fed to freeze towards there, and over which length, in the mould; null where it is near enough, or the feeding distance is not known.</summary>
    public (double Root_mm, double Length_mm)? Taper { get; init; }

    /// <summary>Its body; null with it, and of a feeder that is cut by hand.</summary>
    public GatingBar? Body { get; init; }

    /// <summary>What is cut by hand of a mould on edge, on its joint, in the mould; nowhere for a feeder with a body.</summary>
    public PlanRegion CutOnJoint { get; init; } = PlanRegion.Empty;

    /// <summary>What the feeder holds, at heights as the mould stands, in the mould; none where there is none.</summary>
    public ImmutableArray<CavitySlice> Holds { get; init; } = [];

    /// <summary>Metal of the feeder, mm³.</summary>
    public double Feeder_mm3 => Body?.Body.AsPrinted.Volume() ?? Holds.Sum(h => h.Area_mm2 * (h.High_mm - h.Low_mm));
}

/// <summary>A wall, thinner than the section beside it that has a feeder, that reaches farther than such a wall is fed.</summary>
/// <param name="At_mm">Its far end, job coordinates.</param>
/// <param name="Thick_mm">Of what is not fed, as cast.</param>
/// <param name="Way_mm">From the fed section to its far end, in the mould.</param>
/// <param name="Feeds_mm">How far a feeder feeds along it, in the mould.</param>
/// <param name="Root_mm">How thick it would have to be beside the section to freeze towards it, in the mould.</param>
/// <param name="Lacks_mm3">What lies beyond lacks when it is solid.</param>
public sealed record UnfedWall(Vec3 At_mm, double Thick_mm, double Way_mm, double Feeds_mm, double Root_mm, double Lacks_mm3);

/// <summary>How a casting is fed as it freezes.</summary>
/// <param name="Shrinkage_percent">Of the metal, from liquid to solid.</param>
/// <param name="Sections">The last to freeze first.</param>
/// <param name="Distance_walls">How far a feeder feeds along a wall, in thicknesses of it; null where the freezing range is not known.</param>
/// <param name="IsLongRange">Whether the metal freezes over so long a range that feeders help little.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record FeedingPlan(
    Quoted Shrinkage_percent, ImmutableArray<FedSection> Sections, FreezingRow? Distance_walls, bool IsLongRange, ImmutableArray<Finding> Findings)
{
    /// <summary>Walls beside fed sections that no feeder reaches.</summary>
    public ImmutableArray<UnfedWall> Beyond { get; init; } = [];

    /// <summary>What it was reckoned with.</summary>
    public required FeedingTable Table { get; init; }

    /// <summary>The way that the metal comes in, as a feeder with its neck.</summary>
    public required GateNeck Gate { get; init; }

    /// <summary>Metal of all feeders, those cut by hand included, mm³.</summary>
    public double Metal_mm3 => Sections.Sum(s => s.Feeder_mm3);

    /// <summary>What all feeders hold, by heights as the mould stands.</summary>
    public ImmutableArray<CavitySlice> Holds => [.. Sections.SelectMany(s => s.Holds)];

    /// <summary>All that is cut by hand on the joint.</summary>
    public PlanRegion CutOnJoint => PlanRegion.Union(Sections.Select(s => s.CutOnJoint));

    /// <summary>The feeders that are made.</summary>
    public IEnumerable<GatingBar> Bodies => Sections.Select(s => s.Body).OfType<GatingBar>();
}
