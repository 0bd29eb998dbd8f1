using System.Collections.Immutable;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>Where fillets are asked along one floor of a terrain.</summary>
/// <param name="Height">Height of the floor, mm.</param>
/// <param name="Within">The plan that the fillets may cover; on its border and beyond, heights stay as they are. Nothing of the terrain there is lower than the floor.</param>
/// <param name="Islands">What rises from the floor, with its radius; islands of one radius may be given together.</param>
public sealed record FilletedFloor(double Height, PlanRegion Within, ImmutableArray<FilletedIslands> Islands);

/// <summary>Fillets that are asked between the sloped ground of a terrain, that of turned bodies, and what else it has.</summary>
/// <param name="Within">Whole plateaus of the terrain, sloped and level; those elsewhere take no part.</param>
/// <param name="Radii">mm, in the order in which they are tried: a ball that would touch a third wall somewhere is not rolled.</param>
public sealed record FilletedSlopes(PlanRegion Within, ImmutableArray<double> Radii);

/// <summary>Pieces of plan that rise above a floor, and the radius of the fillet along their walls.</summary>
/// <param name="Region">Made of whole plateaus of the terrain.</param>
/// <param name="Radius">mm.</param>
public sealed record FilletedIslands(PlanRegion Region, double Radius);
