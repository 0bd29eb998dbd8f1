using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A drafted terrain of any shape, as those of meshes, with fillets: the highest of it and of its closings by balls, each over its part of the plan, see <see cref="HangingBall"/>. Nowhere
/// lower than the terrain and nowhere steeper than its walls. Elsewhere it is the terrain; where inside corners between walls reach the ground, its footprint is wider. No fillet rises above a height, where one is given: there it is level.
/// </summary>
public sealed class ClosedTerrain : IFilletedTerrain
{
    /// <summary>Fillets fit to nothing: their facets may be twice as far off, where that is no more than this part of the radius.</summary>
    private const double ChordOverRadius = 1 / 150.0;

    /// <summary>Borders of fillets are looked for in cells of this part of the radius.</summary>
    private const double CellOverRadius = 1 / 6.0;

    /// <summary>They are drawn through no more points than keep to this part of the tolerance in plan.</summary>
    private const double ThinnedOverTolerance = 0.25;

    /// <summary>Halvings of a chord of such a border.</summary>
    private const int DeepestHalving = 7;

    /// <summary>And so are lines along their arcs.</summary>
    private const double LineOverTolerance = 0.5;

    /// <summary>A mesh that is meshed once more may be off by so much of the tolerance.</summary>
    private const double MeshedOverTolerance = 0.5;

    private readonly DraftedTerrain terrain;
    private readonly ImmutableArray<HangingBall> balls;
    private readonly ImmutableArray<int> firstSurface;
    private readonly double tolerance;
    private readonly double angle;
    private readonly double highest;
    private readonly int level;
    private readonly Lazy<PlanRegion> footprint;

    internal ClosedTerrain(DraftedTerrain terrain, ImmutableArray<HangingBall> balls, double tolerance, double highest = double.PositiveInfinity)
    {
        (this.terrain, this.balls, this.tolerance, this.highest) = (terrain, balls, tolerance, highest);
        angle = Math.Min(terrain.OpenAngle, terrain.EnclosedAngle);
        var next = terrain.SurfaceCount;
        firstSurface = [.. balls.Select(b => (next += b.SurfaceCount) - b.SurfaceCount)];
        level = next;
        footprint = new(Widened);
    }

    /// <inheritdoc/>
    public double GroundHeight => terrain.GroundHeight;

    /// <summary>Of its largest ball, mm.</summary>
    public double LargestRadius => balls.Max(b => b.Radius);

    /// <inheritdoc/>
    public PlanRegion Footprint => footprint.Value;

    /// <inheritdoc/>
    public (double Low, double High) Range => terrain.Range;

    /// <inheritdoc/>
    public bool IsCurved => terrain.IsCurved;

    /// <inheritdoc/>
    public double AlwaysAllowed => terrain.AlwaysAllowed;

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p) => Highest(p, terrain.At(p));

    /// <inheritdoc/>
    public double Raise(Vec2 p)
    {
        var sharp = terrain.At(p);
        return Highest(p, sharp).Height - sharp.Height;
    }

    /// <inheritdoc/>
    public double AddedVolume(double error, PlanRegion? holes = null)
    {
        var over = PlanRegion.Union(balls.Select(b => b.Over.Region(terrain.Lattice))).Intersection(Footprint);
        return SampledVolume.Of(holes is null ? over : over.Difference(holes), Raise);
    }

    /// <inheritdoc/>
    public double RemovedVolume(double error) => 0;

    /// <inheritdoc/>
    public ITerrain ForMeshing() => this;

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        if (surface < terrain.SurfaceCount) return terrain.Extended(surface, p, out gradient);
        if (surface == level)
        {
            gradient = default;
            return highest;
        }

        var i = BallOf(surface);
        return balls[i].Extended(surface - firstSurface[i], p, out gradient);
    }

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) =>
        surface < terrain.SurfaceCount ? terrain.SteepestFacet(surface, margin) : 1 / Math.Tan(angle - ((1 - margin) * DraftedTerrain.AngleSlack));

    /// <inheritdoc/>
    public double Leeway(int surface) => surface < terrain.SurfaceCount || surface == level ? 1 : Chord(balls[BallOf(surface)].Radius) / tolerance;

    /// <summary>The terrain of a mesh of it, for what asks for faces and edges.</summary>
    public DraftedTerrain Meshed() =>
        TerrainSkin.Drafted(TerrainSkin.Of(ForMeshing(), terrain.Lattice, MeshedOverTolerance * tolerance), GroundHeight, angle, terrain.Lattice, tolerance);

    /// <summary>The flats of the terrain without what fillets cover, and where these end level.</summary>
    public IEnumerable<Plateau> Flats()
    {
        foreach (var flat in terrain.Flats())
        {
            var region = flat.Region;
            foreach (var covered in Covered(flat)) region = region.Difference(covered);
            var left = PlanRegion.UnionOn(terrain.Lattice, [region]).WithoutSlivers(terrain.SliverWidth);
            if (!left.IsEmpty) yield return flat with { Region = left };
        }

        if (double.IsPositiveInfinity(highest)) yield break;
        PlanRegion[] ends = [.. balls.SelectMany(b => Above(b, b.Over.Region(terrain.Lattice), highest))];
        var cut = PlanRegion.UnionOn(terrain.Lattice, [PlanRegion.Union(ends).Difference(terrain.Above(highest))]).WithoutSlivers(terrain.SliverWidth);
        if (!cut.IsEmpty) yield return new(cut, highest);
    }

    /// <summary>The creases of the terrain as far as no fillet covers them.</summary>
    public ImmutableArray<(Vec2 From, Vec2 To)> Creases()
    {
        var all = terrain.Creases();
        var left = new ImmutableArray<(Vec2, Vec2)>[all.Length];
        var apart = balls.Select(b => b.Radius).Min() * CellOverRadius;
        Parallel.For(0, all.Length, i => left[i] =
            [.. Stretches.Of([all[i].From, all[i].To], apart, terrain.Lattice.Step, p => Raise(p) <= 0, []).Where(s => s.Length > 1).Select(s => (s[0], s[^1])).Where(s => s.Item1 != s.Item2)]);
        return [.. left.SelectMany(l => l)];
    }

    /// <summary>Lines along the arcs, so far apart that chords between them keep twice the tolerance, as far as nothing else is above them.</summary>
    public IEnumerable<ImmutableArray<Vec2>> Breaklines()
    {
        foreach (var line in balls.SelectMany(b => b.Lines(Chord(b.Radius))))
        {
            var stretch = ImmutableArray.CreateBuilder<Vec2>();
            foreach (var v in line)
            {
                if (v.Z > terrain.GroundHeight && At(v.Plan) is var there && Math.Abs(there.Height - v.Z) <= 2 * tolerance * (1 + there.Gradient.Length))
                {
                    stretch.Add(v.Plan);
                    continue;
                }

                if (stretch.Count > 1) yield return PlanLine.Thinned(stretch.ToImmutable(), LineOverTolerance * tolerance);
                stretch.Clear();
            }

            if (stretch.Count > 1) yield return PlanLine.Thinned(stretch.ToImmutable(), LineOverTolerance * tolerance);
        }
    }

    private double Chord(double radius) => Math.Clamp(radius * ChordOverRadius, tolerance, 2 * tolerance);

    private TerrainSample Highest(Vec2 p, TerrainSample best)
    {
        if (best.Height >= highest) return best;
        for (var i = 0; i < balls.Length; i++)
            if (balls[i].TryRaise(p, best.Height, out var raised))
                best = raised with { Surface = firstSurface[i] + raised.Surface };
        return best.Height > highest ? new(highest, default, level) : best;
    }

    private int BallOf(int surface)
    {
        var i = firstSurface.Length - 1;
        while (firstSurface[i] > surface) i--;
        return i;
    }

    private PlanRegion Widened()
    {
        var feet = balls.SelectMany(b => Above(b, b.Over.Region(terrain.Lattice), terrain.GroundHeight)).ToArray();
        return feet.Length == 0 ? terrain.Footprint : PlanRegion.UnionOn(terrain.Lattice, [terrain.Footprint, .. feet]).WithoutSlivers(terrain.SliverWidth);
    }

    private IEnumerable<PlanRegion> Covered(Plateau flat) => flat.Height >= highest ? [] : balls.SelectMany(b => Above(b, flat.Region.Intersection(b.Over.Region(terrain.Lattice)), flat.Height));

    /// <summary>Where a ball's underside is above a height, piece of the plan by piece; a little beyond the pieces, too.</summary>
    private IEnumerable<PlanRegion> Above(HangingBall ball, PlanRegion within, double height)
    {
        var cell = ball.Radius * CellOverRadius;
        foreach (var piece in within.Pieces())
        {
            var box = piece.Geometry.EnvelopeInternal;
            var (low, high, margin) = (new Vec2(box.MinX, box.MinY), new Vec2(box.MaxX, box.MaxY), new Vec2(cell, cell));
            // Where a line runs along the border of what is looked at, it is none of the fillet's; but what it bounds is.
            var lines = LevelCurves.Of(Over, low - (2 * margin), high + (2 * margin), cell, terrain.Lattice.Step / 4);
            var rings = lines.Where(l => l.Length > 3 && l[0] == l[^1]).Select(l => PlanLine.Thinned(Refined(l, p => Over(p) > 0), ThinnedOverTolerance * tolerance)).Where(l => l.Length > 3)
                .Select(l => PlanPath.Polygon([.. l.Take(l.Length - 1)])).ToArray();

            double Over(Vec2 p) => IsNear(p) && ball.TryRaise(p, height - cell, out var raised) ? raised.Height - height : -cell;

            bool IsNear(Vec2 p) => p.X > low.X - cell && p.Y > low.Y - cell && p.X < high.X + cell && p.Y < high.Y + cell;

            if (rings.Length > 0) yield return PlanRegion.EvenOdd(rings, tolerance);
        }
    }

    /// <summary>A border with as many points between its own as its chords need.</summary>
    private ImmutableArray<Vec2> Refined(ImmutableArray<Vec2> line, Func<Vec2, bool> isOver)
    {
        var all = ImmutableArray.CreateBuilder<Vec2>();
        all.Add(line[0]);
        for (var i = 1; i < line.Length; i++)
        {
            Between(line[i - 1], line[i], 0);
            all.Add(line[i]);
        }

        return all.ToImmutable();

        void Between(Vec2 a, Vec2 b, int depth)
        {
            var (middle, length) = (0.5 * (a + b), Vec2.Distance(a, b));
            if (depth == DeepestHalving || length < 2 * tolerance || Beside(middle, (b - a).Normalized().Left, length) is not { } there) return;
            if (Vec2.Distance(there, middle) < ThinnedOverTolerance * tolerance && depth > 1) return;
            Between(a, there, depth + 1);
            all.Add(there);
            Between(there, b, depth + 1);
        }

        // The border square to a chord, no farther off than half of it.
        Vec2? Beside(Vec2 middle, Vec2 across, double length)
        {
            var was = isOver(middle);
            for (var off = length / 256; off <= length / 2; off *= 4)
            {
                foreach (var p in new[] { middle + (off * across), middle - (off * across) })
                    if (isOver(p) != was) return Stretches.LastHolding(middle, p, terrain.Lattice.Step / 4, q => isOver(q) == was);
            }

            return null;
        }
    }
}
