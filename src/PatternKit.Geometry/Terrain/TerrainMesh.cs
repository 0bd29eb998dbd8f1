using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>Three point numbers of a terrain mesh, turning left in plan, and the pocket that the triangle lies in (−1: none).</summary>
internal readonly record struct PlanFacet(int A, int B, int C, int Pocket = -1);

/// <summary>
/// A terrain over a domain of the plan: a triangulation whose points carry heights. The rim is the border of
/// the domain, as directed edges with the domain on the left.
/// </summary>
internal sealed record TerrainMesh(
    ImmutableArray<Vec2> Points,
    ImmutableArray<double> Heights,
    ImmutableArray<PlanFacet> Facets,
    ImmutableArray<(int From, int To)> Rim);
