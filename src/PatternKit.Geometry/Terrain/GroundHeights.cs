using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Heights of plateaus at their border vertices. Those of sloped ones are told apart from rounding: vertices are moved onto the
/// lattice, so that planes that meet there miss each other by as much as the plane rises over that move. What is nearer than that is one
/// height: that of the ground or of the gentlest plateau.
/// </summary>
internal sealed class GroundHeights
{
    private readonly ImmutableArray<Plateau> plateaus;
    private readonly double background;
    private readonly double step;
    private readonly Dictionary<Vec2, List<double>> known = [];

    /// <summary>Notes all vertices.</summary>
    /// <param name="plateaus">As in <see cref="Plateau"/>.</param>
    /// <param name="background">Height of the ground outside; lower plateaus count as being there.</param>
    /// <param name="lattice">Where the vertices are.</param>
    public GroundHeights(ImmutableArray<Plateau> plateaus, double background, Lattice lattice)
    {
        (this.plateaus, this.background, step) = (plateaus, background, lattice.Step);
        if (plateaus.All(p => p.IsLevel)) return;
        foreach (var plateau in plateaus.OrderBy(p => p.Surface.Slope))
        {
            foreach (var v in plateau.Region.Rings().SelectMany(r => r))
            {
                if (!known.TryGetValue(v, out var heights)) known.Add(v, heights = [background]);
                var height = Math.Max(plateau.Surface.At(v), background);
                if (Nearest(heights, height, Slack(plateau.Surface)) is null) heights.Add(height);
            }
        }
    }

    /// <summary>How much a plane may miss another at a vertex, mm.</summary>
    public double Slack(HeightPlane plane) => plane.IsLevel ? 0 : 4 * step * (1 + plane.Slope);

    /// <summary>Height of a plateau at one of its vertices; −1 is the ground outside.</summary>
    public double At(int plateau, Vec2 vertex)
    {
        if (plateau < 0) return background;
        var surface = plateaus[plateau].Surface;
        var height = Math.Max(surface.At(vertex), background);
        return surface.IsLevel ? height : Nearest(known[vertex], height, Slack(surface)) ?? height;
    }

    private static double? Nearest(List<double> heights, double height, double slack)
    {
        double? best = null;
        foreach (var h in heights)
            if (Math.Abs(h - height) <= slack && (best is null || Math.Abs(h - height) < Math.Abs(best.Value - height)))
                best = h;
        return best;
    }
}
