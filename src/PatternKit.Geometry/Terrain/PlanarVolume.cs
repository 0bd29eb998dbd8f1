using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The volume of what is positive of heights that are planes between lines of the plan, exactly, over a triangulation constrained by the
/// lines. It knows no mesh of a terrain.
/// </summary>
public static class PlanarVolume
{
    /// <summary>The volume, mm³.</summary>
    /// <param name="region">Over which part of the plan.</param>
    /// <param name="lines">Between these, heights are planes.</param>
    /// <param name="lattice">Ends of lines are put on it.</param>
    /// <param name="height">Height over a place of the plan, mm; continuous.</param>
    public static double Of(PlanRegion region, IEnumerable<ImmutableArray<Vec2>> lines, Lattice lattice, Func<Vec2, double> height)
    {
        if (region.IsEmpty) return 0;
        var zoned = ZonedTriangulation.Of(region, lines, lattice);
        var volumes = new double[zoned.Triangles.TriangleCount];
        Parallel.For(0, volumes.Length, t =>
        {
            if (zoned.Zone(t) != 1) return;
            var (a, b, c) = (zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));
            volumes[t] = Vec2.Cross(b - a, c - a) / 2 * Mean(height(a), height(b), height(c), height((a + b + c) / 3));
        });
        return volumes.Sum();
    }

    /// <summary>Mean of the positive part of a plane over a triangle, from its heights over the corners and the middle.</summary>
    private static double Mean(double a, double b, double c, double middle)
    {
        // The corners may be rounded where planes end.
        if (a >= 0 && b >= 0 && c >= 0) return Math.Max(0, middle);
        if (a <= 0 && b <= 0 && c <= 0) return 0;
        // A plane that is positive at one corner alone has a tetrahedron above zero; at two, all but the one below.
        Span<double> z = [a, b, c];
        z.Sort();
        return z[1] <= 0
            ? z[2] * z[2] * z[2] / (3 * (z[2] - z[0]) * (z[2] - z[1]))
            : ((z[0] + z[1] + z[2]) / 3) - (z[0] * z[0] * z[0] / (3 * (z[0] - z[1]) * (z[0] - z[2])));
    }
}
