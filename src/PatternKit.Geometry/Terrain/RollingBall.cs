using System.Collections.Frozen;
using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The surface that a ball of one radius leaves when it rolls along the walls of islands on an endless floor: the mitred offset
/// eroded by the ball, C(p) = min over |c − p| ≤ r of D(c) − √(r² − |p − c|²). Where a ball resting on the terrain at p touches nothing
/// else, C is the terrain; elsewhere the best centre lies in a valley of D, or straight above, where D is level. The ball rolls on faces and
/// never on edges, because D's planes go on until they meet.
/// </summary>
internal sealed class RollingBall
{
    /// <summary>
    /// How far the ball is let into walls, mm: so that rounding never lifts the surface off a wall that it should be tangent to.
    /// </summary>
    private const double Slack = 1e-4;

    private const double Rounding = 1e-9;

    private readonly DraftedTerrain resting;
    private readonly DraftedTerrain offset;
    private readonly DraftedTerrain bound;
    private readonly FrozenSet<int> ramps;
    private readonly UpperEnvelope<Primitive> valleys;
    private readonly ImmutableArray<Valley> segments;
    private readonly RoundedCone profile;
    private readonly double floor;
    private readonly Vec2 low;
    private readonly Vec2 high;

    /// <summary>Prepares the surface.</summary>
    /// <param name="terrain">The whole terrain.</param>
    /// <param name="floor">Height of the floor.</param>
    /// <param name="islands">What rises from it.</param>
    /// <param name="bound">The surface is cut off where the negative of this terrain says.</param>
    public RollingBall(DraftedTerrain terrain, double floor, FilletedIslands islands, DraftedTerrain bound)
    {
        (Radius, this.floor, this.bound) = (islands.Radius, floor, bound);
        (resting, offset, ramps, var overlap) = OffsetTerrain.Of(terrain, floor, islands.Region, Radius, Slack);
        var box = islands.Region.Geometry.EnvelopeInternal;
        var widest = Math.Max(terrain.OpenAngle, terrain.EnclosedAngle);
        var margin = ((resting.Levels.FirstOrDefault(floor) - floor + Radius) * Math.Tan(widest)) + (2 * Radius);
        (low, high) = (new(box.MinX - margin, box.MinY - margin), new(box.MaxX + margin, box.MaxY + margin));
        segments = [.. Valleys.Of(offset, overlap)];
        profile = new(Math.Min(terrain.OpenAngle, terrain.EnclosedAngle), Radius);
        valleys = Eroded(segments, profile);
    }

    private RollingBall(RollingBall same, double struck)
    {
        (Radius, floor, low, high) = (same.Radius, same.floor, same.low, same.high);
        (resting, offset, bound, ramps, segments) = (same.resting, same.offset, same.bound, same.ramps, same.segments);
        profile = new(same.profile.Angle, struck);
        valleys = Eroded(segments, profile);
    }

    /// <summary>r, mm.</summary>
    public double Radius { get; }

    /// <summary>How many numbers the surfaces take.</summary>
    public int SurfaceCount => valleys.Primitives.Length + offset.SurfaceCount + bound.SurfaceCount + 4;

    /// <summary>Where the ball's centre runs along the floor: the border of this region; the fillet is tangent to the floor below it.</summary>
    public PlanRegion Reach => offset.Footprint;

    /// <summary>Height at which the surface is cut off.</summary>
    public double CutHeight(Vec2 p) => -bound.At(p).Height;

    /// <summary>The arc's radius: r, or a little more.</summary>
    public double ArcRadius => profile.Radius;

    /// <summary>
    /// The same with its arcs struck by a little more, so that chords between points of them, which cut the corner, lie as far
    /// on the one side of the true arc as on the other.
    /// </summary>
    public RollingBall Deeper(double struck) => new(this, struck);

    /// <summary>The surface where it is above the terrain; false elsewhere.</summary>
    public bool TryRaise(Vec2 p, in TerrainSample terrain, out TerrainSample raised)
    {
        raised = default;
        // Below the floor, and on what is level above it, no fillet of this floor lies.
        if (terrain.Height < floor || (terrain.Height > floor && terrain.Gradient == default)) return false;
        if (p.X < low.X || p.Y < low.Y || p.X > high.X || p.Y > high.Y || Rests(p, terrain.Height, terrain.Gradient)) return false;
        if (!ramps.Contains(terrain.Surface))
        {
            if (!resting.Exceeds(p, terrain.Height - Rounding) && resting.At(p) is var own && Rests(p, own.Height, own.Gradient)) return false;
        }

        var valley = valleys.At(p, -terrain.Height);
        raised = new(-valley.Value, -valley.Gradient, valley.Primitive);
        if (raised.Height <= terrain.Height) return false;
        // Of both only what cuts off is asked for: that is quicker than how high they are.
        var isCut = bound.TryAtLeast(p, Math.Min(-raised.Height, -floor - Rounding), out var limit);
        if (isCut && -limit.Height <= floor + Rounding) return false;
        if (!offset.Exceeds(p, raised.Height + Radius) && offset.At(p) is var above && above.Height - Radius < raised.Height)
            raised = new(above.Height - Radius, above.Gradient, valleys.Primitives.Length + 2 + above.Surface);
        if (isCut && -limit.Height < raised.Height) raised = new(-limit.Height, -limit.Gradient, valleys.Primitives.Length + offset.SurfaceCount + 4 + limit.Surface);
        return raised.Height > terrain.Height;
    }

    /// <summary>One of the surfaces continued over the plan.</summary>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        double height;
        if (surface < valleys.Primitives.Length) height = -valleys.Primitives[surface].Extended(p, out gradient);
        else if (surface < valleys.Primitives.Length + offset.SurfaceCount + 2) return offset.Extended(surface - valleys.Primitives.Length - 2, p, out gradient) - Radius;
        else height = -bound.Extended(surface - valleys.Primitives.Length - offset.SurfaceCount - 4, p, out gradient);
        gradient = -gradient;
        return height;
    }

    /// <summary>The arcs by which the ball, rolling up a corner between two walls, leaves the level of what is above them.</summary>
    /// <param name="chord">Largest distance of chords from the arcs, mm. Corners so blunt that the ball fills less than half of it have none.</param>
    public IEnumerable<ImmutableArray<Vec2>> TopArcs(double chord)
    {
        foreach (var v in segments)
        {
            var (bottom, top) = v.From.Z < v.To.Z ? (v.From, v.To) : (v.To, v.From);
            if (v.Second < 0 || top.Z - bottom.Z < 1e-3) continue;
            var level = resting.Levels.FirstOrDefault(h => Math.Abs(h + Radius - top.Z) < 0.01, double.NaN);
            if (double.IsNaN(level)) continue;
            var (from, to) = (Normal(v.First, top.Plan), Normal(v.Second, top.Plan));
            var turn = Math.Acos(Math.Clamp(Vec3.Dot(from, to), -1, 1));
            if (ArcRadius * ((1 / Math.Cos(turn / 2)) - 1) <= chord / 2) continue;
            var steps = TangentArc.Chords(turn, ArcRadius, chord);
            var along = 1 / (top.Z - bottom.Z) * (top - bottom);
            yield return
            [
                .. Enumerable.Range(0, steps + 1).Select(k =>
                {
                    var n = 1 / Math.Sin(turn) * ((Math.Sin(turn * (steps - k) / steps) * from) + (Math.Sin(turn * k / steps) * to));
                    return (top + ((level + (ArcRadius * n.Z) - top.Z) * along) - (ArcRadius * n)).Plan;
                }),
            ];
        }

        Vec3 Normal(int surface, Vec2 p)
        {
            offset.Extended(surface, p, out var g);
            return 1 / Math.Sqrt(1 + g.LengthSquared) * new Vec3(-g.X, -g.Y, 1);
        }
    }

    private static UpperEnvelope<Primitive> Eroded(ImmutableArray<Valley> segments, RoundedCone profile)
    {
        return new(
            [
                .. segments.Select(s => Primitive.Edge(Down(s.From), Down(s.To), profile)),
                .. segments.SelectMany(s => new[] { s.From, s.To }).Distinct().Select(p => Primitive.Vertex(Down(p), profile)),
            ],
            double.NegativeInfinity);

        static Vec3 Down(Vec3 p) => new(p.X, p.Y, -p.Z);
    }

    /// <summary>Whether a ball that rests at p on a plane of this height and gradient touches nothing else.</summary>
    private bool Rests(Vec2 p, double height, Vec2 gradient)
    {
        var up = Radius / Math.Sqrt(1 + gradient.LengthSquared);
        return !offset.Exceeds(p - (up * gradient), height + up + Rounding);
    }
}
