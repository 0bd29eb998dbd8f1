using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A piece of plan under one plane, level as a rule. The plateaus of a terrain do not overlap and share their border vertices;
/// where sloped ones meet, their heights there are the same up to the rounding of those vertices.
/// </summary>
/// <param name="Region">The piece of plan, on the lattice.</param>
/// <param name="Surface">Its plane.</param>
public sealed record Plateau(PlanRegion Region, HeightPlane Surface)
{
    /// <summary>Whether the height is the same everywhere.</summary>
    public bool IsLevel => Surface.IsLevel;

    /// <summary>Height of a level plateau.</summary>
    public double Height => Surface.AtOrigin;
}
