using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A drafted terrain with fillets along some of its floors, the highest of the terrain and of its closings by balls (Serra 1982), one for every
/// floor and radius, and one between its sloped ground and the rest; and with rounded edges, see <see cref="RoundedEdges"/>, where no fillet is. No slope is steeper than the terrain's own, as
/// neither closing nor opening by one ball can make one, nor can a maximum. The borders of the terrain at its ground stay as they are, but where sloped ground meets other walls in an inside corner.
/// </summary>
public sealed class FilletedTerrain : IFilletedTerrain
{
    /// <summary>Fillets fit to nothing: their facets may be twice as far off, where that is no more than this part of the radius.</summary>
    private const double ChordOverRadius = 1 / 150.0;

    /// <summary>
    /// Lines along arcs are drawn through no more points than keep to this part of the tolerance in plan. The first and the last of an arc keep all of theirs:
    /// there flats and the planes of walls end.
    /// </summary>
    private const double ThinnedOverTolerance = 0.5;

    private readonly DraftedTerrain terrain;
    private readonly RoundedEdges edges;
    private readonly ImmutableArray<RollingBall> balls;
    private readonly ImmutableArray<FilletedFloor> floorOf;
    private readonly ImmutableArray<int> firstSurface;
    private readonly SlopedFillet? slope;

    /// <summary>The terrain whose fillet along sloped ground is raised here too, if it is not this one's own.</summary>
    private readonly FilletedTerrain? owner;
    private readonly int firstOfSlope;
    private readonly Lazy<PlanRegion> footprint;
    private readonly Lazy<PlanRegion> coveredBySlope;
    private readonly double tolerance;
    private readonly double angle;

    /// <summary>Prepares fillets and rounded edges.</summary>
    /// <param name="terrain">The terrain, its corners made for the largest radius of a fillet (<c>cornerReach</c>).</param>
    /// <param name="floors">Floors and radii of fillets.</param>
    /// <param name="rims">Radii of edges; a wall holds both its arcs, and no two borders are nearer to each other than their arcs reach.</param>
    /// <param name="tolerance">Largest distance of breaklines' chords from the surface, mm.</param>
    /// <param name="slopes">Fillets between sloped ground and the rest; null for none. Edges that they come near to are not rounded.</param>
    public FilletedTerrain(DraftedTerrain terrain, ImmutableArray<FilletedFloor> floors, ImmutableArray<RoundedRim> rims, double tolerance, FilletedSlopes? slopes = null)
        : this(terrain, floors, new RoundedEdges(terrain, rims), tolerance, slopes)
    {
    }

    private FilletedTerrain(DraftedTerrain terrain, ImmutableArray<FilletedFloor> floors, RoundedEdges edges, double tolerance, FilletedSlopes? slopes)
    {
        (this.terrain, this.edges, this.tolerance) = (terrain, edges, tolerance);
        // Plateaus that meet may do so but for a slip by rounding; it must not cut the fillet that runs over it.
        var cleaned = floors.Select(f => f with { Within = edges.Uncut(new(f.Within, f.Height)).Region.WithoutSlivers(terrain.SliverWidth) }).ToArray();
        var bounds = new DraftedTerrain[cleaned.Length];
        Parallel.For(0, cleaned.Length, i => bounds[i] = Bound(cleaned[i]));
        var asked = cleaned.SelectMany((f, i) => f.Islands.Select(islands => (Floor: i, Islands: islands))).ToArray();
        var made = new RollingBall[asked.Length];
        Parallel.For(0, asked.Length, i => made[i] = new(terrain, cleaned[asked[i].Floor].Height, asked[i].Islands, bounds[asked[i].Floor]));
        (balls, floorOf) = ([.. made], [.. asked.Select(a => cleaned[a.Floor])]);
        var next = terrain.SurfaceCount + edges.SurfaceCount;
        firstSurface = [.. balls.Select(b => (next += b.SurfaceCount) - b.SurfaceCount)];
        firstOfSlope = next;
        footprint = new(() => terrain.Footprint);
        coveredBySlope = new(() => slope!.Covered.Offset(slope.Radius / 20, slope.Radius / 200));
        foreach (var radius in slopes?.Radii ?? [])
        {
            slope = null;
            slope = SlopedFillet.Of(terrain, slopes!.Within, radius, p => Highest(p, terrain.At(p)).Height);
            if (slope is null) break;
            footprint = new(Widened());
            // A foot that stands alone, or touches another border, is none.
            var feet = footprint.Value;
            var corners = feet.Rings().Sum(r => r.Length);
            if (feet.Geometry.NumGeometries <= terrain.Footprint.Geometry.NumGeometries && feet.Rings().SelectMany(r => r).Distinct().Count() == corners
                && feet.Rings().Length <= terrain.Footprint.Rings().Length && slope.IsFlush(feet, At, Raise)) break;
            (slope, footprint) = (null, new(() => terrain.Footprint));
        }
        angle = Math.Min(terrain.OpenAngle, terrain.EnclosedAngle);
    }

    private FilletedTerrain(DraftedTerrain terrain, ImmutableArray<FilletedFloor> floors, RoundedEdges edges, double tolerance, FilletedTerrain owner)
        : this(terrain, floors, edges, tolerance, (FilletedSlopes?)null) => (this.owner, slope) = (owner, owner.slope);

    private FilletedTerrain(FilletedTerrain same, RoundedEdges edges, ImmutableArray<RollingBall> balls)
    {
        (terrain, tolerance, angle, floorOf, firstSurface, firstOfSlope, footprint) = (same.terrain, same.tolerance, same.angle, same.floorOf, same.firstSurface, same.firstOfSlope, same.footprint);
        (this.edges, this.balls, coveredBySlope) = (edges, balls, same.coveredBySlope);
        owner = same.owner?.WithDeeperSlope();
        slope = owner is null ? same.slope?.Deeper((same.slope.Radius + TangentArc.OfTrueArea(same.slope.Radius, angle, Chord(same.slope.Radius)).Struck) / 2) : owner.slope;
    }

    /// <summary>The same edges, with fillets along these floors, and between sloped ground and the rest.</summary>
    public FilletedTerrain WithFillets(ImmutableArray<FilletedFloor> floors, FilletedSlopes? slopes) => new(terrain, floors, edges, tolerance, slopes);

    /// <summary>The same edges, with fillets along these floors, and the fillet along sloped ground of what stands on this terrain.</summary>
    /// <param name="floors">Floors and radii.</param>
    /// <param name="standing">What stands on it, with its fillets, on a ground of its own.</param>
    public FilletedTerrain Carrying(ImmutableArray<FilletedFloor> floors, FilletedTerrain standing) => new(terrain, floors, edges, tolerance, standing);

    /// <summary>The radius of the fillet between sloped ground and the rest, mm; 0 where there is none.</summary>
    public double SlopeRadius => slope?.Radius ?? 0;

    /// <summary>The terrain without fillets and with sharp edges.</summary>
    public DraftedTerrain Sharp => terrain;

    /// <summary>
    /// The same for meshing: arcs struck by so much more that their chords hold as much as the true ones. No point of them is farther from
    /// the true arc than twice the tolerance.
    /// </summary>
    public ITerrain ForMeshing()
    {
        var deeper = new RollingBall[balls.Length];
        Parallel.For(0, balls.Length, i => deeper[i] = balls[i].Deeper(TangentArc.OfTrueArea(balls[i].Radius, angle, Chord(balls[i].Radius)).Struck));
        // Facets of a fillet that bends along its way, too, are smaller than its chords, and cut off about half as much.
        return new FilletedTerrain(this, edges.ForMeshing(Chord), [.. deeper]);
    }

    private FilletedTerrain WithDeeperSlope() => new(this, edges, balls);

    /// <inheritdoc/>
    public double GroundHeight => terrain.GroundHeight;

    /// <inheritdoc/>
    public PlanRegion Footprint => footprint.Value;

    /// <inheritdoc/>
    public (double Low, double High) Range => terrain.Range;

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p)
    {
        var sharp = terrain.At(p);
        return edges.TryLower(p, sharp, terrain.SurfaceCount, out var lowered) ? lowered : edges.OnWall(p, sharp, Highest(p, sharp), terrain.SurfaceCount);
    }

    /// <inheritdoc/>
    public double Raise(Vec2 p)
    {
        var sharp = terrain.At(p);
        return Highest(p, sharp).Height - sharp.Height;
    }

    /// <inheritdoc/>
    public double AddedVolume(double error, PlanRegion? holes = null)
    {
        if (balls.IsEmpty && slope is null) return 0;
        var flats = terrain.Flats().ToArray();
        var lines = balls.SelectMany((b, i) => Lines(b, floorOf[i], b.Radius / 30, 0))
            .Concat(SlopeLines(slope is null ? 0 : slope.Radius / 30, 0))
            .Concat(terrain.Bendings());
        var zone = PlanRegion.Union(balls.Select((b, i) => b.Reach.Intersection(floorOf[i].Within)))
            .Difference(PlanRegion.Union(flats.Where(f => !floorOf.Any(o => o.Height == f.Height)).Select(f => f.Region)));
        if (slope is not null) zone = PlanRegion.Union([zone, slope.Covered, slope.Beside]);
        if (holes is not null) zone = zone.Difference(holes);
        // Where a fillet ends, it does so within a part of its radius; an end that a cube of the second size holds does not count.
        var least = balls.Select(b => b.Radius).Concat(slope is null ? [] : [slope.Radius]).Min();
        return PlanIntegral.Of(Raise, zone, lines, terrain.Lattice, error, Math.Max(least / 4, Math.Cbrt(100 * error)));
    }

    /// <summary>Where edges of flats above a height are rounded, maybe down to below it; those of walls, outside the flats, left out.</summary>
    public PlanRegion LoweredTo(double height) => edges.LoweredTo(height);

    /// <inheritdoc/>
    public double RemovedVolume(double error) => edges.Volume(Removed, p => At(p).Height, error);

    /// <summary>By how much rounding lowers the surface, mm.</summary>
    private double Removed(Vec2 p)
    {
        var sharp = terrain.At(p);
        // Over level ground near its border no fillet is.
        if (edges.TryLower(p, sharp, terrain.SurfaceCount, out var lowered)) return sharp.Height - lowered.Height;
        var filled = Highest(p, sharp);
        return filled.Height - edges.OnWall(p, sharp, filled, terrain.SurfaceCount).Height;
    }

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        if (surface < terrain.SurfaceCount) return terrain.Extended(surface, p, out gradient);
        if (IsEdge(surface)) return edges.Extended(surface - terrain.SurfaceCount, p, out gradient);
        if (surface >= firstOfSlope) return slope!.Extended(surface - firstOfSlope, p, out gradient);
        var i = BallOf(surface);
        return balls[i].Extended(surface - firstSurface[i], p, out gradient);
    }

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) =>
        surface < terrain.SurfaceCount ? terrain.SteepestFacet(surface, margin) : 1 / Math.Tan(angle - ((1 - margin) * DraftedTerrain.AngleSlack));

    /// <inheritdoc/>
    public double AlwaysAllowed => terrain.AlwaysAllowed;

    /// <inheritdoc/>
    public double Leeway(int surface) => surface < terrain.SurfaceCount ? 1
        : Chord(IsEdge(surface) ? edges.Radius(surface - terrain.SurfaceCount) : surface >= firstOfSlope ? slope!.Radius : balls[BallOf(surface)].Radius) / tolerance;

    /// <summary>The flats of the sharp terrain without what fillets cover and arcs of edges take.</summary>
    public IEnumerable<Plateau> Flats()
    {
        foreach (var flat in terrain.Flats())
        {
            var left = floorOf.Any(f => f.Height == flat.Height)
                ? flat with { Region = Covered(flat.Height).Aggregate(flat.Region, (region, fillet) => region.Difference(fillet)).WithoutSlivers(terrain.SliverWidth) }
                : flat;
            left = edges.Uncut(left);
            // Where the ball turns, its arcs leave specks between them that it covers all the same.
            if (slope is not null) left = left with { Region = left.Region.Difference(coveredBySlope.Value).WithoutSlivers(terrain.SliverWidth) };
            if (!left.Region.IsEmpty) yield return left;
        }
    }

    /// <summary>
    /// The creases as far as no fillet covers them; those between the facets of a hollow round wall, which a fillet fills by less than half the
    /// tolerance, stay.
    /// </summary>
    public ImmutableArray<(Vec2 From, Vec2 To)> Creases()
    {
        (Vec2 From, Vec2 To)[] all = [.. terrain.Creases()];
        var left = new (Vec2, Vec2)?[all.Length];
        Parallel.For(0, all.Length, i =>
        {
            var (from, to) = all[i];
            var shallow = tolerance / (2 * Math.Sin(angle));
            var middle = Raise(0.5 * (from + to));
            var limit = middle > 0 && middle <= shallow ? shallow : 0;
            var (first, last) = (Raise(from) > limit, Raise(to) > limit);
            if (!first) left[i] = (from, last ? Uncovered(from, to, limit) : to);
            else if (!last) left[i] = (Uncovered(to, from, limit), to);
        });
        return [.. left.OfType<(Vec2, Vec2)>()];

        Vec2 Uncovered(Vec2 free, Vec2 covered, double limit) => Stretches.LastHolding(free, covered, terrain.Lattice.Step, p => Raise(p) <= limit);
    }

    /// <summary>Level lines of the arcs, so far apart that chords between them keep twice the tolerance, and the ends of those between walls.</summary>
    public IEnumerable<ImmutableArray<Vec2>> Breaklines() =>
        balls.SelectMany((b, i) => Lines(b, floorOf[i], Chord(b.Radius), ThinnedOverTolerance * tolerance))
            .Concat(slope is null ? [] : SlopeLines(Chord(slope.Radius), ThinnedOverTolerance * tolerance))
            .Concat(edges.Lines(Chord, ThinnedOverTolerance * tolerance, p => At(p).Height));

    private IEnumerable<ImmutableArray<Vec2>> Lines(RollingBall ball, FilletedFloor floor, double chord, double thinned)
    {
        var arc = new TangentArc(ball.Radius, ball.ArcRadius, angle);
        var isWhole = floor.Within.Covers(ball.Reach);
        var steps = arc.Chords(chord);
        List<Vec2> cuts = [], before = [];
        for (var k = 0; k <= steps; k++)
        {
            var (s, c) = Math.SinCos(arc.From + (arc.Turn * k / steps));
            var level = ball.Reach.Offset(-ball.ArcRadius * s, chord);
            if (isWhole)
            {
                foreach (var line in level.Borders()) yield return Drawn(line);
                continue;
            }

            // Where the floor ends, the fillet ends at a face that leans back as walls do; the line in which they meet goes from end to end.
            var height = floor.Height + ball.Radius - (ball.ArcRadius * c);
            foreach (var line in level.Borders().SelectMany(l => Stretches.Of(l, ball.Radius, terrain.Lattice.Step, p => ball.CutHeight(p) >= height, cuts))) yield return Drawn(line);
            var step = ball.ArcRadius * arc.Turn / steps;
            foreach (var end in cuts)
                if (before.Count > 0 && before.MinBy(p => Vec2.Distance(p, end)) is var last && Vec2.Distance(last, end) is > 0 and var far && far < 2 * step) yield return [last, end];
            (before, cuts) = (cuts, []);

            ImmutableArray<Vec2> Drawn(ImmutableArray<Vec2> line) => k > 0 && k < steps ? PlanLine.Thinned(line, thinned) : line;
        }

        // Where a larger ball of another floor rolls up the same corner, nothing of this one is seen.
        foreach (var line in ball.TopArcs(chord).Where(l => !l.All(p => IsOfAnother(ball, p)))) yield return line;
    }

    /// <summary>Lines along the fillet of sloped ground, as far as nothing else is above them.</summary>
    private IEnumerable<ImmutableArray<Vec2>> SlopeLines(double chord, double thinned)
    {
        if (slope is null) yield break;
        var level = (owner ?? this).GroundHeight;
        if (owner is not null)
            foreach (var foot in slope.Beside.Borders()) yield return foot;
        foreach (var line in slope.Lines(chord))
        {
            var stretch = ImmutableArray.CreateBuilder<Vec2>();
            foreach (var v in line)
            {
                if (v.Z > level && Math.Abs(At(v.Plan).Height - v.Z) <= 2 * tolerance * (1 + At(v.Plan).Gradient.Length))
                {
                    stretch.Add(v.Plan);
                    continue;
                }

                if (stretch.Count > 1) yield return PlanLine.Thinned(stretch.ToImmutable(), thinned);
                stretch.Clear();
            }

            if (stretch.Count > 1) yield return PlanLine.Thinned(stretch.ToImmutable(), thinned);
        }
    }

    private PlanRegion Widened() => slope is null || slope.Beside.IsEmpty ? terrain.Footprint
        : PlanRegion.UnionOn(terrain.Lattice, [terrain.Footprint, slope.Beside]).WithoutSlivers(terrain.SliverWidth);

    private TerrainSample Highest(Vec2 p, TerrainSample sharp)
    {
        var best = sharp;
        for (var i = 0; i < balls.Length; i++)
            if (balls[i].TryRaise(p, sharp, out var raised) && raised.Height > best.Height)
                best = raised with { Surface = firstSurface[i] + raised.Surface };
        if (owner is not null)
        {
            if (owner.slope is { } standing && !standing.IsFar(p) && owner.At(p) is var there && there.Surface >= owner.firstOfSlope && there.Height > best.Height)
                best = there with { Surface = firstOfSlope + (there.Surface - owner.firstOfSlope) };
        }
        else if (slope is not null && slope.TryRaise(p, best, out var between))
        {
            best = between with { Surface = firstOfSlope + between.Surface };
        }

        return terrain.CutOff(best);
    }

    private bool IsOfAnother(RollingBall ball, Vec2 p)
    {
        var surface = Highest(p, terrain.At(p)).Surface;
        return surface >= terrain.SurfaceCount && !IsEdge(surface) && (surface >= firstOfSlope || balls[BallOf(surface)] != ball);
    }

    private double Chord(double radius) => Math.Clamp(radius * ChordOverRadius, tolerance, 2 * tolerance);

    private bool IsEdge(int surface) => surface < terrain.SurfaceCount + edges.SurfaceCount;

    private int BallOf(int surface)
    {
        var i = firstSurface.Length - 1;
        while (firstSurface[i] > surface) i--;
        return i;
    }

    private IEnumerable<PlanRegion> Covered(double floor) => balls.Where((_, i) => floorOf[i].Height == floor).Select(b => b.Reach);

    /// <summary>
    /// Minus the height at which fillets of a floor are cut off: the floor's own height at the border of what they may cover, and the height of
    /// every higher flat at its border, rising from there as steeply as walls do. So fillets of one floor never reach another.
    /// </summary>
    private DraftedTerrain Bound(FilletedFloor floor)
    {
        var lattice = terrain.Lattice;
        var above = terrain.Levels.FirstOrDefault(floor.Height) + 1;
        var reach = 0.9 * lattice.Extent;
        var outside = PlanRegion.Rectangle(new(-reach, -reach), new(reach, reach)).Difference(floor.Within).WithoutSlivers(terrain.SliverWidth);
        var prisms = terrain.Flats().Where(f => f.Height > floor.Height).OrderByDescending(f => f.Height)
            .Select(f => new Prism(f.Region.Offset(32 * lattice.Step, lattice.Step), -above - 1, -f.Height))
            .Append(new(outside, -above - 1, -floor.Height)).Where(p => !p.Region.IsEmpty).ToList();
        var plateaus = ColumnMapBuilder.Build(prisms, lattice.Step).Cells.Where(c => !c.Solid.IsEmpty).Select(c => new Plateau(c.Region, c.High));
        return new([.. plateaus], -above, terrain.OpenAngle, terrain.EnclosedAngle, lattice, tolerance);
    }
}
