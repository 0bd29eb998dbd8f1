using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>A piece of plan at one height. The plateaus of a terrain do not overlap and share their border vertices.</summary>
public readonly record struct Plateau(PlanRegion Region, double Height);
