using System.Collections.Frozen;
using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The edges of level ground rounded by balls that roll along them inside: the opening of what stands to a height and is cut off there (Serra
/// 1982), one height at a time, and the highest of these. Up to a border the ball is tangent to the level at r tan(45° − θ/2) from it, measured to the
/// nearest edge; beyond, to the ramp, whose arc takes the place of the ramp's upper end. So nothing gets steeper than its wall. Where
/// ramps end at the same corner the ball follows each of them; a corner of the plan stays as sharp as it is.
/// </summary>
internal sealed class RoundedEdges
{
    private readonly DraftedTerrain terrain;
    private readonly ImmutableArray<RoundedRamp> ramps;
    private readonly UpperEnvelope<RoundedRamp> walls;
    private readonly FrozenDictionary<double, UpperEnvelope<RimDrop>> drops;
    private readonly ImmutableArray<RimRing> rings;
    private readonly ImmutableDictionary<(double Radius, double Angle), TangentArc> struck;

    /// <summary>Prepares the edges.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="rims">Radii.</param>
    public RoundedEdges(DraftedTerrain terrain, ImmutableArray<RoundedRim> rims)
        : this(terrain, Near(rims))
    {
    }

    private RoundedEdges(DraftedTerrain terrain, Dictionary<double, Func<Vec2, double>> radii)
        : this(terrain, Asked(terrain, radii), [.. radii.OrderByDescending(n => n.Key).SelectMany(n => RimRing.Of(terrain, n.Key, n.Value))], [])
    {
    }

    private RoundedEdges(DraftedTerrain terrain, IEnumerable<RoundedRamp> rounded, ImmutableArray<RimRing> rings, ImmutableDictionary<(double Radius, double Angle), TangentArc> struck)
    {
        (this.terrain, this.rings, this.struck) = (terrain, rings, struck);
        ramps = rings.IsEmpty ? [] : [.. rounded];
        walls = new(rings.IsEmpty ? [] : [.. ramps, .. terrain.SlopedPieces.Select(f => new RoundedRamp(f, default))], terrain.GroundHeight);
        drops = ramps.Where(r => r.IsRound && r.Piece.A != r.Piece.B).GroupBy(r => r.Piece.HeightA)
            .ToFrozenDictionary(g => g.Key, g => new UpperEnvelope<RimDrop>([.. g.Select(r => new RimDrop(r))], 0));
    }

    /// <summary>How many numbers the surfaces take: one for every ramp, where any is rounded.</summary>
    public int SurfaceCount => ramps.Length;

    /// <summary>The same with arcs struck so that chords between points of them hold as much as the true arcs.</summary>
    /// <param name="chord">Largest distance of chords by radius, mm.</param>
    public RoundedEdges ForMeshing(Func<double, double> chord)
    {
        if (rings.IsEmpty) return this;
        var arcs = ramps.Where(r => r.IsRound).Select(r => r.Arc).Distinct()
            .ToImmutableDictionary(a => (a.Radius, a.Angle), a => TangentArc.OfTrueArea(a.Radius, a.Angle, chord(a.Radius)));
        return new(terrain, ramps.Select(r => r.IsRound ? new(r.Piece, arcs[(r.Arc.Radius, r.Arc.Angle)]) : r), rings, arcs);
    }

    /// <summary>The radius to which a surface belongs.</summary>
    public double Radius(int surface) => ramps[surface].Arc.Radius;

    /// <summary>The rounded terrain over level ground near its border, where no fillet is; false elsewhere. Arcs have the numbers of their ramps.</summary>
    /// <param name="p">The place.</param>
    /// <param name="sharp">The terrain there.</param>
    /// <param name="first">First number of an arc.</param>
    /// <param name="rounded">What it becomes.</param>
    public bool TryLower(Vec2 p, in TerrainSample sharp, int first, out TerrainSample rounded)
    {
        rounded = default;
        if (drops.Count == 0 || sharp.Gradient != default || !drops.TryGetValue(sharp.Height, out var edges)) return false;
        var drop = edges.At(p);
        if (drop.Primitive < 0) return false;
        rounded = Wall(p, new(sharp.Height - drop.Value, -drop.Gradient, first + edges.Primitives.ItemRef(drop.Primitive).Surface), first);
        return true;
    }

    /// <summary>The rounded terrain elsewhere.</summary>
    /// <param name="p">The place.</param>
    /// <param name="sharp">The terrain there.</param>
    /// <param name="filled">The terrain with fillets there.</param>
    /// <param name="first">First number of an arc.</param>
    public TerrainSample OnWall(Vec2 p, in TerrainSample sharp, in TerrainSample filled, int first)
    {
        if (sharp.Surface < 0 || sharp.Surface >= ramps.Length) return filled;
        ref readonly var ramp = ref ramps.ItemRef(sharp.Surface);
        if (!ramp.IsCutOff(filled.Height)) return filled;
        var gradient = filled.Gradient;
        var rounded = ramp.Rounded(filled.Height, ref gradient);
        return Wall(p, new(rounded, gradient, first + sharp.Surface), first);
    }

    /// <summary>The arc of a ramp, and the wall below it, continued over the plan.</summary>
    public double Extended(int surface, Vec2 p, out Vec2 gradient) => ramps.ItemRef(surface).Extended(p, out gradient);

    /// <summary>A flat without what is rounded.</summary>
    public Plateau Uncut(Plateau flat) => rings.Where(r => r.Height == flat.Height)
        .Aggregate(flat, (left, ring) => left with { Region = left.Region.Difference(ring.Band(Struck(ring).Inside)) });

    /// <summary>Where level ground above a height is lowered along its border, maybe below that height.</summary>
    public PlanRegion LoweredTo(double height) =>
        PlanRegion.Union(rings.Where(r => r.Height > height && r.Height - r.Arc.Depth < height).Select(r => r.Band(r.Arc.Reach)));

    /// <summary>Lines along the arcs.</summary>
    /// <param name="chord">Largest distance of chords by radius, mm.</param>
    /// <param name="thinned">How far from lines between the first and the last of an arc vertices may be that are left out, mm.</param>
    /// <param name="surface">Height of the finished surface.</param>
    public IEnumerable<ImmutableArray<Vec2>> Lines(Func<double, double> chord, double thinned, Func<Vec2, double> surface)
    {
        var asked = rings.SelectMany(ring => Enumerable.Range(1, Struck(ring).Chords(chord(ring.Arc.Radius))).Select(k => (Ring: ring, Step: k))).ToArray();
        var lines = new ImmutableArray<Vec2>[asked.Length][];
        Parallel.For(0, asked.Length, i => lines[i] = [.. Line(asked[i].Ring, asked[i].Step)]);
        return lines.SelectMany(l => l);

        IEnumerable<ImmutableArray<Vec2>> Line(RimRing ring, int step)
        {
            var arc = Struck(ring);
            var steps = arc.Chords(chord(arc.Radius));
            var (s, c) = Math.SinCos(arc.From + (arc.Turn * step / steps));
            var (inside, height) = (arc.Reach - (arc.Struck * s), ring.Height - arc.Radius + (arc.Struck * c));
            // Hidden where something else is higher; off the true place by the line's own chords where it is not.
            var slack = (RimRing.Fineness * arc.Radius * (1 + (s / c))) + 1e-4;
            return ring.Line(inside).SelectMany(l => Stretches.Of(l, arc.Radius, terrain.Lattice.Step, p => Math.Abs(surface(p) - height) <= slack, []))
                .Select(l => step < steps ? PlanLine.Thinned(l, thinned) : l);
        }
    }

    /// <summary>What rounding takes away, mm³.</summary>
    /// <param name="removed">By how much the surface is lowered.</param>
    /// <param name="surface">Height of the finished surface.</param>
    /// <param name="error">Wanted accuracy, mm³.</param>
    public double Volume(Func<Vec2, double> removed, Func<Vec2, double> surface, double error) => rings.IsEmpty ? 0 : PlanIntegral.Of(
        removed,
        PlanRegion.Union(rings.SelectMany(r => new[] { r.Band(r.Arc.Reach), r.Outside((r.Arc.Radius * Math.Cos(r.Arc.Angle)) - r.Arc.Reach) })),
        Lines(r => r / 30, 0, surface).Concat(terrain.Bendings()), terrain.Lattice, error, Math.Max(rings.Min(r => r.Arc.Radius) / 4, Math.Cbrt(100 * error)));

    /// <summary>The walls, where they are higher than what else is there.</summary>
    private TerrainSample Wall(Vec2 p, in TerrainSample other, int first)
    {
        var wall = walls.AtLeast(p, other.Height);
        if (wall.Primitive < 0) return other;
        ref readonly var ramp = ref walls.Primitives.ItemRef(wall.Primitive);
        var isArc = ramp.IsRound && wall.Value != ramp.Piece.Extended(p, out _);
        return new(wall.Value, wall.Gradient, ramp.Piece.Surface + (isArc ? first : 0));
    }

    /// <summary>The arc of a border as it is struck now.</summary>
    private TangentArc Struck(RimRing ring) => struck.TryGetValue((ring.Arc.Radius, ring.Arc.Angle), out var arc) ? arc : ring.Arc;

    private static IEnumerable<RoundedRamp> Asked(DraftedTerrain terrain, Dictionary<double, Func<Vec2, double>> radii) =>
        terrain.RampPieces.Select(q => new RoundedRamp(
            q, q.IsLevelRamp && radii.TryGetValue(q.HeightA, out var radius) && radius(0.5 * (q.A + q.B)) is > 0 and var r ? new(r, r, q.Angle) : default));

    /// <summary>By height, the radius at a place: that of the nearest ring.</summary>
    private static Dictionary<double, Func<Vec2, double>> Near(ImmutableArray<RoundedRim> rims) => rims.GroupBy(r => r.Height).ToDictionary(g => g.Key, g =>
    {
        var first = g.First().Radius;
        if (g.All(r => r.Radius == first)) return _ => first;
        var all = g.Select(r => (r.Radius, Ring: new IndexedFacetDistance(PlanRegion.Line(r.Ring)))).ToArray();
        return (Func<Vec2, double>)(p => all.MinBy(r => r.Ring.Distance(new Point(p.X, p.Y))).Radius);
    });
}
