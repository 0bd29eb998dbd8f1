using System.Collections.Immutable;
using NetTopologySuite.Algorithm.Locate;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The fillet that a ball of one radius leaves where it rolls between the sloped ground of a terrain and the rest: the closing of both together (Serra 1982), as far as it fills
/// between them. The ball's centre runs where both, dilated by the ball, are as high: D_s = D_r, a valley of the dilated terrain whatever the two are like, found as
/// a level curve of the difference. Where a ball that rests on the one enters the other, the surface is C(p) = min over the valley's c of c_z − √(r² − |p − c|²), or D(p) − r where that is lower.
/// Unlike the ball of <see cref="RollingBall"/> it rolls on edges, too.
/// </summary>
internal sealed class SlopedFillet
{
    /// <summary>Chords of the valley keep to this part of the radius.</summary>
    private const double ChordOverRadius = 1 / 3000.0;

    /// <summary>Cells in which valleys are looked for, over the radius, and how many of them fit on a side at most.</summary>
    private const double CellOverRadius = 0.2;
    private const int MostCells = 400;

    /// <summary>Planes of both sides that turn by less leave nothing worth filling, radians.</summary>
    private const double LeastTurn = Math.PI / 720;

    /// <summary>A ball enters what it is so far in, mm: more than rounding, less than anyone measures.</summary>
    private const double Touch = 1e-5;

    /// <summary>Halvings of a chord.</summary>
    private const int Deepest = 12;

    private readonly SlopedGround ground;
    private readonly ImmutableArray<ImmutableArray<Contact>> runs;
    private readonly UpperEnvelope<Primitive> valleys;
    private readonly RoundedCone profile;
    private readonly double level;
    private readonly Vec2 low;
    private readonly Vec2 high;
    private readonly IndexedPointInAreaLocator? beside;

    /// <summary>Where the ball is, and the directions from both places where it touches.</summary>
    private readonly record struct Contact(Vec3 Centre, Vec3 First, Vec3 Second);

    private SlopedFillet(DraftedTerrain terrain, SlopedGround ground, double radius)
    {
        (this.ground, Radius, level) = (ground, radius, terrain.GroundHeight);
        profile = new(Math.Min(terrain.OpenAngle, terrain.EnclosedAngle), radius);
        var margin = ((terrain.Levels.FirstOrDefault(level) - level + radius) * Math.Tan(Math.Max(terrain.OpenAngle, terrain.EnclosedAngle))) + (2 * radius);
        (low, high) = (ground.Low - new Vec2(margin, margin), ground.High + new Vec2(margin, margin));
        runs = [.. Runs()];
        valleys = Eroded(profile);
        Covered = PlanRegion.UnionOn(terrain.Lattice, Strips()).WithoutSlivers(terrain.SliverWidth);
        Beside = PlanRegion.UnionOn(terrain.Lattice, [Covered.Difference(terrain.Footprint), .. Feet(terrain.Footprint)]).WithoutSlivers(terrain.SliverWidth);
        beside = Beside.IsEmpty ? null : new(Beside.Geometry);
    }

    private SlopedFillet(SlopedFillet same, double struck)
    {
        (ground, runs, level, low, high, beside) = (same.ground, same.runs, same.level, same.low, same.high, same.beside);
        (Radius, Covered, Beside) = (same.Radius, same.Covered, same.Beside);
        profile = new(same.profile.Angle, struck);
        valleys = Eroded(profile);
    }

    /// <summary>r, mm.</summary>
    public double Radius { get; }

    /// <summary>The plan that the fillet lies over, above the ground.</summary>
    public PlanRegion Covered { get; }

    /// <summary>What of that is beside the terrain's own footprint: between walls that meet in an inside corner.</summary>
    public PlanRegion Beside { get; }

    /// <summary>How many numbers the surfaces take.</summary>
    public int SurfaceCount => valleys.Primitives.Length + 1;

    /// <summary>The fillet; null where a terrain has no sloped ground that meets another.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="slopes">What of it, and r.</param>
    public static SlopedFillet? Of(DraftedTerrain terrain, FilletedSlopes slopes) =>
        slopes.Radius > 0 && SlopedGround.Of(terrain, slopes) is { } ground && new SlopedFillet(terrain, ground, slopes.Radius) is { runs.IsEmpty: false } fillet ? fillet : null;

    /// <summary>The same, struck deeper, see <see cref="RollingBall.Deeper"/>.</summary>
    public SlopedFillet Deeper(double struck) => new(this, struck);

    /// <summary>The surface where it is above the terrain; false elsewhere.</summary>
    /// <param name="p">The place.</param>
    /// <param name="terrain">The terrain there, other fillets on it.</param>
    /// <param name="raised">The surface.</param>
    public bool TryRaise(Vec2 p, in TerrainSample terrain, out TerrainSample raised)
    {
        raised = default;
        if (p.X < low.X || p.Y < low.Y || p.X > high.X || p.Y > high.Y) return false;
        if (terrain.Height <= level)
        {
            if (beside is null || beside.Locate(new(p.X, p.Y)) == Location.Exterior) return false;
        }
        else
        {
            var up = Radius / Math.Sqrt(1 + terrain.Gradient.LengthSquared);
            // Other fillets lie on the rest.
            var side = terrain.Surface < ground.Sides.Length && terrain.Surface >= 0 ? ground.Sides[terrain.Surface] : GroundSide.Rest;
            if (side == GroundSide.Neither) return false;
            var other = side == GroundSide.Sloped ? ground.Rest : ground.Sloped;
            if (!other.Exceeds(p - (up * terrain.Gradient), terrain.Height + up + Touch)) return false;
        }

        var valley = valleys.At(p, -terrain.Height);
        raised = new(-valley.Value, -valley.Gradient, valley.Primitive);
        if (raised.Height <= terrain.Height) return false;
        if (Dilated(p) is var above && above.Value - Radius < raised.Height) raised = new(above.Value - Radius, above.Gradient, valleys.Primitives.Length);
        return raised.Height > terrain.Height;
    }

    /// <summary>One of the surfaces continued over the plan.</summary>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        if (surface == valleys.Primitives.Length)
        {
            var above = Dilated(p);
            gradient = above.Gradient;
            return above.Value - Radius;
        }

        var height = -valleys.Primitives[surface].Extended(p, out gradient);
        gradient = -gradient;
        return height;
    }

    /// <summary>Lines along the fillet, from one side to the other, and the heights along them.</summary>
    /// <param name="chord">Largest distance of chords from one line to the next from the arc, mm.</param>
    public IEnumerable<ImmutableArray<Vec3>> Lines(double chord)
    {
        foreach (var run in runs)
        {
            var steps = run.Max(c => TangentArc.Chords(Turn(c), Radius, chord));
            for (var k = 0; k <= steps; k++) yield return [.. run.Select(c => Below(c, (double)k / steps))];
        }
    }

    private EnvelopeSample Dilated(Vec2 p)
    {
        var (sloped, rest) = (ground.Sloped.At(p), ground.Rest.At(p));
        return sloped.Value > rest.Value ? sloped : rest;
    }

    private UpperEnvelope<Primitive> Eroded(RoundedCone by)
    {
        // Half a chord lower the surface meets what it is tangent to a little early, and never stands off it.
        var slack = ChordOverRadius * Radius / 2;
        return new(
            [
                .. runs.SelectMany(r => r.Zip(r.Skip(1), (a, b) => Primitive.Edge(Down(a), Down(b), by))),
                .. runs.SelectMany(r => r).Select(Down).Distinct().Select(v => Primitive.Vertex(v, by)),
            ],
            double.NegativeInfinity);

        Vec3 Down(Contact c) => new(c.Centre.X, c.Centre.Y, slack - c.Centre.Z);
    }

    /// <summary>The valleys above the ground in which something is to be filled.</summary>
    private IEnumerable<ImmutableArray<Contact>> Runs()
    {
        var cell = Math.Max(CellOverRadius * Radius, Math.Max(high.X - low.X, high.Y - low.Y) / MostCells);
        foreach (var curve in LevelCurves.Of(p => ground.Sloped.At(p).Value - ground.Rest.At(p).Value, low, high, cell, Touch / 10))
        {
            var run = ImmutableArray.CreateBuilder<Contact>();
            Contact? before = null;
            foreach (var p in Refined(curve))
            {
                var here = At(p);
                var (wasIn, isIn) = (before is { } b && IsIn(b), IsIn(here));
                if (isIn && !wasIn && before is { } from && Cut(from, here) is { } first) run.Add(first);
                if (isIn) run.Add(here);
                if (!isIn && wasIn)
                {
                    if (Cut(here, before!.Value) is { } last) run.Add(last);
                    if (run.Count > 1) yield return run.ToImmutable();
                    run.Clear();
                }

                before = here;
            }

            if (run.Count > 1) yield return run.ToImmutable();
        }

        bool IsIn(Contact c) => c.Centre.Z >= level && Turn(c) >= LeastTurn;

        // Where a valley comes up from below the ground.
        Contact? Cut(Contact below, Contact above)
        {
            if (below.Centre.Z >= level || above.Centre.Z <= level) return null;
            var t = (level - below.Centre.Z) / (above.Centre.Z - below.Centre.Z);
            var cut = At(below.Centre.Plan + (t * (above.Centre.Plan - below.Centre.Plan)));
            return Turn(cut) >= LeastTurn ? cut with { Centre = cut.Centre with { Z = level } } : null;
        }
    }

    /// <summary>The points of a curve with as many between them as its chords in space need.</summary>
    private IEnumerable<Vec2> Refined(ImmutableArray<Vec2> curve)
    {
        var chord = ChordOverRadius * Radius;
        yield return curve[0];
        for (var i = 1; i < curve.Length; i++)
        {
            foreach (var p in Between(curve[i - 1], Dilated(curve[i - 1]).Value, curve[i], Dilated(curve[i]).Value, 0)) yield return p;
            yield return curve[i];
        }

        IEnumerable<Vec2> Between(Vec2 a, double za, Vec2 b, double zb, int depth)
        {
            if (depth == Deepest || (za < level - Radius && zb < level - Radius) || OnCurve(0.5 * (a + b), Vec2.Distance(a, b) / 2) is not { } middle) yield break;
            var z = Dilated(middle).Value;
            var (along, arm) = (new Vec3(b.X - a.X, b.Y - a.Y, zb - za), new Vec3(middle.X - a.X, middle.Y - a.Y, z - za));
            if (Vec3.Cross(along, arm).Length <= chord * along.Length) yield break;
            foreach (var p in Between(a, za, middle, z, depth + 1)) yield return p;
            yield return middle;
            foreach (var p in Between(middle, z, b, zb, depth + 1)) yield return p;
        }
    }

    /// <summary>The place of the curve nearest to one beside it, by Newton's steps; null where there is none within a distance.</summary>
    private Vec2? OnCurve(Vec2 start, double within)
    {
        var p = start;
        for (var k = 0; k < 20; k++)
        {
            var (sloped, rest) = (ground.Sloped.At(p), ground.Rest.At(p));
            var (off, across) = (sloped.Value - rest.Value, sloped.Gradient - rest.Gradient);
            if (Math.Abs(off) <= Touch / 10) return p;
            if (across.LengthSquared == 0) return null;
            p -= off / across.LengthSquared * across;
            if (Vec2.Distance(p, start) > within) return null;
        }

        return null;
    }

    private Contact At(Vec2 p)
    {
        var (sloped, rest) = (ground.Sloped.At(p), ground.Rest.At(p));
        return new(new(p.X, p.Y, Math.Max(sloped.Value, rest.Value)), Normal(sloped.Gradient), Normal(rest.Gradient));

        static Vec3 Normal(Vec2 gradient) => 1 / Math.Sqrt(1 + gradient.LengthSquared) * new Vec3(-gradient.X, -gradient.Y, 1);
    }

    private static double Turn(Contact c) => Math.Acos(Math.Clamp(Vec3.Dot(c.First, c.Second), -1, 1));

    /// <summary>A place of the ball's underside, 0 where it touches the first and 1 where it touches the second.</summary>
    private Vec3 Below(Contact c, double part)
    {
        var turn = Turn(c);
        return c.Centre - (Radius / Math.Sin(turn) * ((Math.Sin(turn * (1 - part)) * c.First) + (Math.Sin(turn * part) * c.Second)));
    }

    /// <summary>The plan under the ball's arcs from one place of it to the next, as far as they are above the ground.</summary>
    private IEnumerable<PlanRegion> Strips()
    {
        foreach (var run in runs)
        {
            var steps = run.Max(c => TangentArc.Chords(Turn(c), Radius, Radius / 100));
            Vec3[][] arcs = [.. run.Select(c => Enumerable.Range(0, steps + 1).Select(k => Below(c, (double)k / steps)).ToArray())];
            for (var i = 1; i < arcs.Length; i++)
            {
                var (a, b) = (arcs[i - 1], arcs[i]);
                if (a.Concat(b).All(v => v.Z >= level))
                {
                    if (Ring(a.Concat(b.Reverse())) is { } whole) yield return whole;
                    continue;
                }

                for (var k = 0; k < steps; k++)
                    if (Ring(Above([a[k], a[k + 1], b[k + 1], b[k]])) is { } part) yield return part;
            }
        }
    }

    /// <summary>
    /// The plan between walls and the line in which a fillet that climbs up between them leaves the ground: from that line back beyond the corner.
    /// </summary>
    private IEnumerable<PlanRegion> Feet(PlanRegion footprint)
    {
        foreach (var end in runs.SelectMany(r => new[] { r, r.Reverse().ToImmutableArray() }).Where(r => r[0].Centre.Z <= level + Touch))
        {
            var steps = TangentArc.Chords(Turn(end[0]), Radius, Radius / 500);
            Vec2[] line = [.. Enumerable.Range(0, steps + 1).Select(k => OnGround(end, (double)k / steps)).OfType<Vec2>()];
            if (line.Length < 3) continue;
            // Tangents at both ends meet in the corner, or before it where a wall bulges.
            var (from, to) = (line[1] - line[0], line[^1] - line[^2]);
            var cross = Vec2.Cross(from, to);
            if (Math.Abs(cross) < 1e-12) continue;
            var corner = line[0] + (Vec2.Cross(line[^1] - line[0], to) / cross * from);
            var middle = 0.5 * (line[0] + line[^1]);
            var (s, c) = (Ring(line.Append(corner + (0.25 * (corner - middle))).Select(p => new Vec3(p.X, p.Y, level))), PlanRegion.Line([.. line]));
            if (s is null) continue;
            foreach (var piece in s.Difference(footprint).Pieces().Where(q => q.Geometry.IsWithinDistance(c, Radius / 1000))) yield return piece;
        }
    }

    /// <summary>Where the line through the same part of the arcs comes up from the ground.</summary>
    private Vec2? OnGround(ImmutableArray<Contact> run, double part)
    {
        var before = Below(run[0], part);
        foreach (var c in run.Skip(1))
        {
            var here = Below(c, part);
            if (before.Z <= level && here.Z > level) return (before + ((level - before.Z) / (here.Z - before.Z) * (here - before))).Plan;
            before = here;
        }

        return null;
    }

    private List<Vec3> Above(Vec3[] ring)
    {
        var kept = new List<Vec3>();
        for (var i = 0; i < ring.Length; i++)
        {
            var (a, b) = (ring[i], ring[(i + 1) % ring.Length]);
            if (a.Z >= level) kept.Add(a);
            if (a.Z >= level != b.Z >= level) kept.Add(a + ((level - a.Z) / (b.Z - a.Z) * (b - a)));
        }

        return kept;
    }

    private static PlanRegion? Ring(IEnumerable<Vec3> ring)
    {
        var points = new List<Vec2>();
        foreach (var p in ring)
            if (points.Count == 0 || points[^1] != p.Plan) points.Add(p.Plan);
        while (points.Count > 1 && points[^1] == points[0]) points.RemoveAt(points.Count - 1);
        return points.Count > 2 ? PlanRegion.Polygon(points) : null;
    }
}
