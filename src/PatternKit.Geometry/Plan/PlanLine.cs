using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Simplify;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>Open lines of the plan, by their vertices.</summary>
internal static class PlanLine
{
    /// <summary>A line through fewer of its vertices, its ends among them (Douglas and Peucker 1973).</summary>
    /// <param name="line">The line.</param>
    /// <param name="within">How far vertices that are left out may be from it, mm.</param>
    public static ImmutableArray<Vec2> Thinned(ImmutableArray<Vec2> line, double within) => line.Length < 3 ? line :
        [.. DouglasPeuckerLineSimplifier.Simplify([.. line.Select(p => new Coordinate(p.X, p.Y))], within).Select(c => new Vec2(c.X, c.Y))];
}
