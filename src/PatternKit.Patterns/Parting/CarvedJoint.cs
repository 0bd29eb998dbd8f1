using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Patterns.Parting;

/// <summary>The steps of a joint.</summary>
/// <param name="Draft">Their angle from the draw, radians, with its rule.</param>
/// <param name="Levels_mm">Heights of the joint between them, job z, unscaled, ascending; that around is one.</param>
public sealed record JointSteps(Sourced<double> Draft, ImmutableArray<double> Levels_mm);

/// <summary>A joint that is not flat: it follows the parting line of the part, or stands at levels with steps between them; pattern millimetres.</summary>
/// <param name="Line">The line along which the halves part: a loop round each piece of the part's shadow, and one in each hole that can be looked through.</param>
/// <param name="Surface">The joint, which holds the line and is level around.</param>
/// <param name="Shadow">The part as seen along the draw, before draft.</param>
/// <param name="Slope">Steepest slope of the line itself, rise per plan length.</param>
public sealed record CarvedJoint(ImmutableArray<ImmutableArray<Vec3>> Line, FacetedGround Surface, PlanRegion Shadow, double Slope)
{
    /// <summary>Its steps; null where it follows the parting line.</summary>
    public JointSteps? Steps { get; init; }

    /// <summary>What it is, in a word.</summary>
    public string Word => Steps is null ? "carved" : "stepped";

    /// <summary>Height of the joint around, at the flask.</summary>
    public double Level_mm => Surface.Level;

    /// <summary>How far the joint goes below the level, and above it.</summary>
    public (double Below_mm, double Above_mm) Off => (Math.Max(0, Level_mm - Surface.Range.Low), Math.Max(0, Surface.Range.High - Level_mm));
}
