using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Patterns.Parting;

/// <summary>A joint that follows the parting line of the part; pattern millimetres.</summary>
/// <param name="Line">The line: a loop round each piece of the part's shadow, and one in each hole that can be looked through.</param>
/// <param name="Surface">The joint, which holds the line and is level around.</param>
/// <param name="Shadow">The part as seen along the draw, before draft.</param>
/// <param name="Slope">Steepest slope of the line itself, rise per plan length.</param>
public sealed record CarvedJoint(ImmutableArray<ImmutableArray<Vec3>> Line, FacetedGround Surface, PlanRegion Shadow, double Slope)
{
    /// <summary>Height of the joint around, at the flask.</summary>
    public double Level_mm => Surface.Level;

    /// <summary>How far the joint goes below the level, and above it.</summary>
    public (double Below_mm, double Above_mm) Off => (Math.Max(0, Level_mm - Surface.Range.Low), Math.Max(0, Surface.Range.High - Level_mm));
}
