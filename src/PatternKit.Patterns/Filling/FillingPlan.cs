using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Filling;

/// <summary>What may keep metal from a place.</summary>
public enum FillRisk
{
    /// <summary>The tip of the stream, chilled by fresh sand, stops on the way.</summary>
    Front,

    /// <summary>A thin way freezes before what it feeds is full.</summary>
    Choked,

    /// <summary>The head does not press the metal into so narrow a place.</summary>
    Head,
}

/// <summary>The three ratios of a place: what it asks for over what the metal has; above 1 it does not run.</summary>
/// <param name="Front">Heat lost by the tip of the stream over what it can lose before it stops.</param>
/// <param name="Choked">Time that a way has to stay open over the part of its freezing time that counts.</param>
/// <param name="Head">Head that a narrow place asks for over that which is there; 0 where the surface tension is not known.</param>
public readonly record struct FillRatios(double Front, double Choked, double Head)
{
    /// <summary>The largest of them.</summary>
    public double Worst => Math.Max(Front, Math.Max(Choked, Head));

    /// <summary>That of one kind.</summary>
    public double Of(FillRisk kind) => kind switch { FillRisk.Front => Front, FillRisk.Choked => Choked, _ => Head };

    /// <summary>Which one that is.</summary>
    public FillRisk Kind => Front >= Choked && Front >= Head ? FillRisk.Front : Choked >= Head ? FillRisk.Choked : FillRisk.Head;
}

/// <summary>A change that clears a place: with it no ratio of the place is above the limit of doubt, found with the same reckoning.</summary>
/// <param name="Key">What is changed: "pour_temperature_C", "pour_time_s", "head_mm", "wall_mm", "ingate", "alloy".</param>
/// <param name="Value">To what, in the unit of the key; not a number for an ingate; the pouring temperature of another alloy, °C.</param>
/// <param name="At_mm">Where an ingate would be, job coordinates; null for other changes.</param>
/// <param name="Text">In words.</param>
public sealed record FillRemedy(string Key, double Value, Vec3? At_mm, string Text)
{
    /// <summary>Another metal, by its key; null for other changes.</summary>
    public string? Alloy { get; init; }
}

/// <summary>A place where metal may not run.</summary>
/// <param name="At_mm">The worst of it, job coordinates.</param>
/// <param name="Wall_mm">Thickness there, as cast.</param>
/// <param name="Way_mm">From the ingate, in the mould.</param>
/// <param name="Arrives_s">When the metal gets there.</param>
/// <param name="Ratios">The largest ratio of each kind in the place.</param>
/// <param name="Low">The least that they may be: least heat transfer at the tip, ways that freeze later than reckoned, no skin of oxide.</param>
/// <param name="High">The most.</param>
/// <param name="Volume_mm3">Of the place, in the mould.</param>
/// <param name="Remedies">What clears it, each by itself; empty where nothing that was tried does.</param>
/// <param name="HottestClears">Whether the hottest metal of the alloy's range clears it.</param>
public sealed record FillPlace(
    Vec3 At_mm, double Wall_mm, double Way_mm, double Arrives_s, FillRatios Ratios, FillRatios Low, FillRatios High, double Volume_mm3,
    ImmutableArray<FillRemedy> Remedies, bool HottestClears)
{
    /// <summary>The family in which no other alloy clears it; null where one does, or none was sought.</summary>
    public string? NoneOfFamily { get; init; }
}

/// <summary>A section that freezes later than all around it.</summary>
/// <param name="At_mm">Its middle, job coordinates.</param>
/// <param name="Across_mm">Largest ball in it, as cast.</param>
/// <param name="Modulus_mm">Volume over cooling surface of the section, in the mould.</param>
/// <param name="Freezes_s">Freezing time.</param>
/// <param name="CutOff_s">When the way to a later one freezes; null for the last of all.</param>
/// <param name="Pool_mm3">Liquid that is cut off then; all that is left for the last one of all.</param>
/// <param name="Shrinks_mm3">What of it the metal lacks when it is solid; null where no shrinkage is known, below 0 where the metal expands.</param>
public sealed record HotSpot(Vec3 At_mm, double Across_mm, double Modulus_mm, double Freezes_s, double? CutOff_s, double Pool_mm3, double? Shrinks_mm3)
{
    /// <summary>Where its casting lies from the first one of its part in the mould, job coordinates. Castings of one part are alike: one is reckoned, and its sections are those of all.</summary>
    public Vec2 Casting_mm { get; init; }

    /// <summary>Which part of the mould it is of.</summary>
    public int Part { get; init; }

    /// <summary>Metal of its casting, in the mould.</summary>
    public required double OfCasting_mm3 { get; init; }
}

/// <summary>How a casting fills and in which order it freezes, reckoned before melting.</summary>
/// <param name="Pour">Temperature and its range.</param>
/// <param name="FillTime_s">By the casting's own level sections, and what feeders hold, through the choke.</param>
/// <param name="Shares">What part of the metal each ingate gets, from the sprue outward.</param>
/// <param name="ThinnestWall_mm">As cast.</param>
/// <param name="FarthestWay_mm">From an ingate, in the mould.</param>
/// <param name="Worst">The largest ratio of each kind anywhere.</param>
/// <param name="Cell_mm">Of the cells that it was reckoned on.</param>
/// <param name="IsCoarse">Whether walls were met that are thinner than a cell.</param>
/// <param name="MouldConstant_s_mm2">Freezing time over the square of the modulus.</param>
/// <param name="FirstFreezes_s">Freezing time of the thinnest wall.</param>
/// <param name="Places">Where metal may not run, the worst first.</param>
/// <param name="HotSpots">The last to freeze first.</param>
/// <param name="Shrinkage_percent">From liquid to solid; null where none is known.</param>
/// <param name="Shrinks_mm3">Of the whole casting; null with it.</param>
/// <param name="Assumptions">What was taken for want of a figure.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record FillingPlan(
    PourTemperature Pour,
    double FillTime_s,
    ImmutableArray<double> Shares,
    double ThinnestWall_mm,
    double FarthestWay_mm,
    FillRatios Worst,
    double Cell_mm,
    bool IsCoarse,
    Sourced<double> MouldConstant_s_mm2,
    double FirstFreezes_s,
    ImmutableArray<FillPlace> Places,
    ImmutableArray<HotSpot> HotSpots,
    Quoted? Shrinkage_percent,
    double? Shrinks_mm3,
    ImmutableArray<string> Assumptions,
    ImmutableArray<Finding> Findings)
{
    /// <summary>When each of several castings is full, s, feeders left out; empty for one casting.</summary>
    public ImmutableArray<double> CastingsFull_s { get; init; } = [];

    /// <summary>Limits, heat transfer and what else was reckoned with.</summary>
    public required FillingTable Table { get; init; }
}
