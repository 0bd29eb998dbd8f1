using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Neighbouring ramps of one height and angle around a convex stretch of a border, each with the last ray of the one before as its
/// first. Above any height they cover one simple polygon: joining a few of these is much less work than joining every ramp.
/// </summary>
internal sealed class RampBand
{
    /// <summary>Within a quarter of a turn neither border of a band can meet itself.</summary>
    private const double LargestTurn = Math.PI / 2;

    private readonly ImmutableArray<TerrainPiece> ramps;

    private RampBand(ImmutableArray<TerrainPiece> ramps) => this.ramps = ramps;

    /// <summary>The upper edge of all its ramps.</summary>
    public double Height => ramps[0].HeightA;

    /// <summary>All ramps that fall from level edges in bands, in a fixed order.</summary>
    public static ImmutableArray<RampBand> Of(IEnumerable<TerrainPiece> pieces)
    {
        var ramps = pieces.Where(p => p.IsLevelRamp).ToArray();
        var byFirstRay = new Dictionary<(Vec2, Vec2, double, double), int>();
        for (var i = 0; i < ramps.Length; i++) byFirstRay.TryAdd((ramps[i].A, ramps[i].StartLimit, ramps[i].HeightA, ramps[i].Angle), i);
        var next = new int[ramps.Length];
        var follows = new bool[ramps.Length];
        for (var i = 0; i < ramps.Length; i++)
        {
            next[i] = byFirstRay.GetValueOrDefault((ramps[i].B, ramps[i].EndLimit, ramps[i].HeightA, ramps[i].Angle), -1);
            if (next[i] >= 0 && !follows[next[i]]) follows[next[i]] = true;
            else next[i] = -1;
        }

        var bands = ImmutableArray.CreateBuilder<RampBand>();
        var banded = new bool[ramps.Length];
        // Chains with a beginning first; what is left runs in circles.
        foreach (var first in Enumerable.Range(0, ramps.Length).OrderBy(i => follows[i]))
            for (var at = first; at >= 0 && !banded[at];)
                bands.Add(new(Stretch(ref at)));
        return bands.ToImmutable();

        ImmutableArray<TerrainPiece> Stretch(ref int at)
        {
            var stretch = ImmutableArray.CreateBuilder<TerrainPiece>();
            for (var turn = 0.0; ; at = next[at])
            {
                if (at < 0 || banded[at]) break;
                if (stretch.Count > 0)
                    turn += Math.Abs(Math.Atan2(Vec2.Cross(stretch[^1].Gradient, ramps[at].Gradient), Vec2.Dot(stretch[^1].Gradient, ramps[at].Gradient)));
                if (turn > LargestTurn) break;
                banded[at] = true;
                stretch.Add(ramps[at]);
            }

            return stretch.ToImmutable();
        }
    }

    /// <summary>The part of the ramps above a height, its contour <paramref name="extra"/> mm farther downhill.</summary>
    public PlanRegion Above(double height, double extra)
    {
        var points = new List<Vec2> { ramps[0].A };
        foreach (var ramp in ramps)
            if (ramp.B != ramp.A) points.Add(ramp.B);
        for (var i = ramps.Length - 1; i >= 0; i--) points.Add(ramps[i].Limits(height, extra).End);
        points.Add(ramps[0].Limits(height, extra).Start);
        return PlanRegion.Polygon(points);
    }
}
