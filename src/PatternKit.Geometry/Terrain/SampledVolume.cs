using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The volume under curved ground as a sum of heights over the middles of a square grid that is turned, so that no long straight edge runs along
/// its rows. It knows no mesh. On drafted meshes it is within about a ten-thousandth.
/// </summary>
public static class SampledVolume
{
    /// <summary>Turn of the grid, radians; half the golden angle is far from every simple fraction of a turn.</summary>
    private const double Turn = 1.1999816148643266;

    /// <summary>Rows over the longer side.</summary>
    private const int Rows = 720;

    /// <summary>The volume between a terrain and its ground, mm³.</summary>
    public static double Of(ITerrain terrain) => Of(terrain.Footprint, p => terrain.At(p).Height - (terrain.Ground?.At(p).Height ?? terrain.GroundHeight));

    /// <summary>The volume over a piece of plan whose thickness is known; nothing where that is below 0.</summary>
    public static double Of(PlanRegion footprint, Func<Vec2, double> thickness)
    {
        if (footprint.IsEmpty) return 0;
        var (s, c) = Math.SinCos(Turn);
        var turned = footprint.Geometry.Coordinates.Select(p => new Vec2((c * p.X) + (s * p.Y), (c * p.Y) - (s * p.X))).ToArray();
        var (low, high) = (new Vec2(turned.Min(p => p.X), turned.Min(p => p.Y)), new Vec2(turned.Max(p => p.X), turned.Max(p => p.Y)));
        var cell = Math.Max(high.X - low.X, high.Y - low.Y) / Rows;
        var sums = new double[(int)Math.Ceiling((high.Y - low.Y) / cell)];
        Parallel.For(0, sums.Length, row =>
        {
            var y = low.Y + ((row + 0.5) * cell);
            for (var x = low.X + (cell / 2); x < high.X; x += cell)
            {
                var p = new Vec2((c * x) - (s * y), (s * x) + (c * y));
                sums[row] += Math.Max(0, thickness(p));
            }
        });
        return sums.Sum() * cell * cell;
    }
}
