using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Neighbouring ramps of one angle along a stretch of a border that turns one way. Where it juts out, each ramp has the last ray of the one
/// before as its first; where it is hollow and level, neighbours overlap up to the line half way between them. Above any height a band
/// covers a few simple polygons: joining those is much less work than joining every ramp.
/// </summary>
internal sealed class RampBand
{
    /// <summary>Within a quarter of a turn neither border of a band can meet itself.</summary>
    private const double LargestTurn = Math.PI / 2;

    private readonly ImmutableArray<TerrainPiece> ramps;
    private readonly bool isHollow;

    private RampBand(ImmutableArray<TerrainPiece> ramps, bool isHollow) => (this.ramps, this.isHollow) = (ramps, isHollow);

    /// <summary>All ramps in bands, in a fixed order.</summary>
    public static ImmutableArray<RampBand> Of(IEnumerable<TerrainPiece> pieces)
    {
        var ramps = pieces.Where(p => p.IsRamp).ToArray();
        var (next, hollow) = Successors(ramps);
        var follows = new bool[ramps.Length];
        foreach (var i in next)
            if (i >= 0) follows[i] = true;

        var bands = ImmutableArray.CreateBuilder<RampBand>();
        var banded = new bool[ramps.Length];
        // Chains with a beginning first; what is left runs in circles.
        foreach (var first in Enumerable.Range(0, ramps.Length).OrderBy(i => follows[i]))
            for (var at = first; at >= 0 && !banded[at];)
                bands.Add(Stretch(ref at));
        return bands.ToImmutable();

        RampBand Stretch(ref int at)
        {
            var stretch = ImmutableArray.CreateBuilder<TerrainPiece>();
            var isHollow = hollow[at];
            double turn = 0, bend = 0;
            var along = default(Vec2);
            for (var last = -1; at >= 0 && !banded[at]; last = at, at = next[at])
            {
                if (last >= 0)
                {
                    if (hollow[last] != isHollow) break;
                    turn += Between(ramps[last].Gradient, ramps[at].Gradient);
                }

                var edge = ramps[at].B - ramps[at].A;
                if (edge != default)
                {
                    if (along != default) bend += Between(along, edge);
                    along = edge;
                }

                if (turn > LargestTurn || bend > LargestTurn) break;
                banded[at] = true;
                stretch.Add(ramps[at]);
            }

            return new(stretch.ToImmutable(), isHollow);
        }
    }

    /// <summary>The parts of the ramps above a height, their contour <paramref name="extra"/> mm farther downhill: simple polygons.</summary>
    public IEnumerable<IReadOnlyList<Vec2>> Above(double height, double extra)
    {
        if (!isHollow) return Side(height, extra);
        if (ramps[0].HeightA <= height) return [];
        return Mitred(height, extra) is { } whole ? [whole] : ramps.Select(r => r.Above(height, extra));
    }

    /// <summary>The ramp that follows each one in a band, −1 for none, and whether the border is hollow there.</summary>
    private static (int[] Next, bool[] Hollow) Successors(TerrainPiece[] ramps)
    {
        var byFirstRay = new Dictionary<(Vec2, Vec2, double, double), int>();
        var byStart = new Dictionary<(Vec2, double, double), int>();
        for (var i = 0; i < ramps.Length; i++)
        {
            var r = ramps[i];
            byFirstRay.TryAdd((r.A, r.StartLimit, r.HeightA, r.Angle), i);
            // Where two borders begin at one point, none is followed.
            if (IsPlainStart(r) && !byStart.TryAdd((r.A, r.HeightA, r.Angle), i)) byStart[(r.A, r.HeightA, r.Angle)] = -1;
        }

        var next = new int[ramps.Length];
        var hollow = new bool[ramps.Length];
        var follows = new bool[ramps.Length];
        for (var i = 0; i < ramps.Length; i++)
        {
            var r = ramps[i];
            next[i] = byFirstRay.GetValueOrDefault((r.B, r.EndLimit, r.HeightB, r.Angle), -1);
            if (next[i] < 0 && IsPlainEnd(r))
            {
                next[i] = byStart.GetValueOrDefault((r.B, r.HeightB, r.Angle), -1);
                hollow[i] = next[i] >= 0 && Vec2.Cross(r.B - r.A, ramps[next[i]].B - ramps[next[i]].A) < 0;
                if (!hollow[i]) next[i] = -1;
            }

            if (next[i] < 0) continue;
            if (follows[next[i]]) (next[i], hollow[i]) = (-1, false);
            else follows[next[i]] = true;
        }

        return (next, hollow);

        static bool IsPlainStart(TerrainPiece r) => r.IsLevelRamp && r.A != r.B && Math.Abs(Vec2.Dot(r.StartLimit, r.B - r.A)) <= 1e-12 * (r.B - r.A).Length;

        static bool IsPlainEnd(TerrainPiece r) => r.IsLevelRamp && r.A != r.B && Math.Abs(Vec2.Dot(r.EndLimit, r.B - r.A)) <= 1e-12 * (r.B - r.A).Length;
    }

    /// <summary>Side by side, from ray to ray: the borders of stretches above the height, up along the edges and back along the contour.</summary>
    private List<Vec2[]> Side(double height, double extra)
    {
        var found = new List<Vec2[]>();
        var (edges, contour) = (new List<Vec2>(), new List<Vec2>());
        foreach (var r in ramps)
        {
            if (Math.Max(r.HeightA, r.HeightB) <= height)
            {
                Close();
                continue;
            }

            var (runA, runB) = (r.Run(r.HeightA, height, extra), r.Run(r.HeightB, height, extra));
            var (a, b) = r.Limits(height, extra);
            if (runA <= 0)
            {
                Close();
                edges.Add(Crossing());
            }
            else if (edges.Count == 0)
            {
                edges.Add(r.A);
                contour.Add(a);
            }

            if (runB > 0)
            {
                if (r.B != r.A) edges.Add(r.B);
                contour.Add(b);
            }
            else
            {
                edges.Add(Crossing());
                Close();
            }

            Vec2 Crossing() => r.A + (runA / (runA - runB) * (r.B - r.A));
        }

        Close();
        return found;

        void Close()
        {
            contour.Reverse();
            if (edges.Count + contour.Count > 2) found.Add([.. edges, .. contour]);
            edges.Clear();
            contour.Clear();
        }
    }

    /// <summary>
    /// The whole of a hollow band, whose contour goes from mitre to mitre. Null where an edge is so short for the run that ramps reach past
    /// their neighbours.
    /// </summary>
    private List<Vec2>? Mitred(double height, double extra)
    {
        var run = ramps[0].Run(ramps[0].HeightA, height, extra);
        var points = new List<Vec2> { ramps[0].A };
        foreach (var r in ramps) points.Add(r.B);
        points.Add(ramps[^1].Limits(height, extra).End);
        var cut = 0.0;
        for (var i = ramps.Length - 1; i >= 0; i--)
        {
            // Two planes of one slope meet half way; a ramp ends beside the neighbour's foot, run · sin φ ≤ 2 run · tan (φ / 2) along it.
            var before = i == 0 ? 0 : run * Math.Tan(Between(ramps[i - 1].Gradient, ramps[i].Gradient) / 2);
            if ((ramps[i].B - ramps[i].A).Length <= 2 * (cut + before)) return null;
            var start = ramps[i].Limits(height, extra).Start;
            points.Add(i == 0 ? start : start + (before * (ramps[i].B - ramps[i].A).Normalized()));
            cut = before;
        }

        return points;
    }

    private static double Between(Vec2 a, Vec2 b) => Math.Abs(Math.Atan2(Vec2.Cross(a, b), Vec2.Dot(a, b)));
}
