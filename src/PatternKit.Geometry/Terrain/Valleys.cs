using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>A straight concave crease of a terrain of planes.</summary>
/// <param name="From">One end.</param>
/// <param name="To">The other.</param>
/// <param name="First">Ramp on one side, −1 where it is level.</param>
/// <param name="Second">Ramp on the other; −1 where one side is level.</param>
internal readonly record struct Valley(Vec3 From, Vec3 To, int First, int Second);

/// <summary>The valleys of a drafted terrain: where ramps cross, and where they come down to level ground.</summary>
internal static class Valleys
{
    /// <summary>All of them.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="overlap">By how much ramps may reach above the plateaus they start from, mm; that is no valley.</param>
    public static IEnumerable<Valley> Of(DraftedTerrain terrain, double overlap)
    {
        foreach (var c in terrain.RampCreases)
            if (c.Second >= 0 && IsValley(c))
                yield return new(On(c.First, c.From), On(c.First, c.To), c.First, c.Second);
        foreach (var (from, to) in Segments(terrain.Footprint.Borders())) yield return Level(from, to, terrain.GroundHeight);
        // Along its own border a plateau falls; what rises from it does so inside.
        var border = 64 * terrain.Lattice.Step;
        foreach (var level in terrain.Plateaus)
            foreach (var (from, to) in Segments(level.Region.Offset(-border, border).Inside(terrain.Above(level.Height + overlap).Borders())))
                yield return Level(from, to, level.Height);

        // Neighbours at a jutting corner meet in a ridge: there the terrain falls off to both sides below the higher of the two planes.
        bool IsValley(RampCrease c)
        {
            var middle = 0.5 * (c.From + c.To);
            var f = terrain.Extended(c.First, middle, out var g);
            terrain.Extended(c.Second, middle, out var h);
            var aside = 64 * terrain.Lattice.Step * (g - h).Normalized();
            return terrain.At(middle + aside).Height > f + (0.5 * Vec2.Dot(g + h, aside));
        }

        Vec3 On(int ramp, Vec2 p) => new(p.X, p.Y, terrain.Extended(ramp, p, out _));
    }

    private static Valley Level(Vec2 from, Vec2 to, double height) => new(new(from.X, from.Y, height), new(to.X, to.Y, height), -1, -1);

    private static IEnumerable<(Vec2 From, Vec2 To)> Segments(IEnumerable<ImmutableArray<Vec2>> lines) =>
        lines.SelectMany(l => Enumerable.Range(1, l.Length - 1).Select(i => (l[i - 1], l[i])));
}
