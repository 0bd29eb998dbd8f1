using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A drafted terrain with fillets along some of its floors: the highest of the terrain and of its closings by balls (Serra 1982), one for every
/// floor and radius. No slope is steeper than the terrain's own, as a closing by one ball cannot make one and neither can a maximum.
/// The borders of the terrain at its ground stay as they are.
/// </summary>
public sealed class FilletedTerrain : ITerrain
{
    /// <summary>Fillets fit to nothing: their facets may be twice as far off, where that is no more than this part of the radius.</summary>
    private const double ChordOverRadius = 1 / 150.0;

    private readonly DraftedTerrain terrain;
    private readonly ImmutableArray<RollingBall> balls;
    private readonly ImmutableArray<FilletedFloor> floorOf;
    private readonly ImmutableArray<int> firstSurface;
    private readonly double tolerance;
    private readonly double angle;

    /// <summary>Prepares the fillets.</summary>
    /// <param name="terrain">The terrain, its corners made for the largest radius (<c>cornerReach</c>).</param>
    /// <param name="floors">Floors and radii.</param>
    /// <param name="tolerance">Largest distance of breaklines' chords from the surface, mm.</param>
    public FilletedTerrain(DraftedTerrain terrain, ImmutableArray<FilletedFloor> floors, double tolerance)
    {
        (this.terrain, this.tolerance) = (terrain, tolerance);
        // Plateaus that meet may do so but for a slip by rounding; it must not cut the fillet that runs over it.
        var cleaned = floors.Select(f => f with { Within = f.Within.WithoutSlivers(terrain.SliverWidth) }).ToArray();
        var bounds = new DraftedTerrain[cleaned.Length];
        Parallel.For(0, cleaned.Length, i => bounds[i] = Bound(cleaned[i]));
        var asked = cleaned.SelectMany((f, i) => f.Islands.Select(islands => (Floor: i, Islands: islands))).ToArray();
        var made = new RollingBall[asked.Length];
        Parallel.For(0, asked.Length, i => made[i] = new(terrain, cleaned[asked[i].Floor].Height, asked[i].Islands, bounds[asked[i].Floor]));
        (balls, floorOf) = ([.. made], [.. asked.Select(a => cleaned[a.Floor])]);
        var next = terrain.SurfaceCount;
        firstSurface = [.. balls.Select(b => (next += b.SurfaceCount) - b.SurfaceCount)];
        angle = Math.Min(terrain.OpenAngle, terrain.EnclosedAngle);
    }

    private FilletedTerrain(FilletedTerrain same, ImmutableArray<RollingBall> balls)
    {
        (terrain, tolerance, angle, floorOf, firstSurface) = (same.terrain, same.tolerance, same.angle, same.floorOf, same.firstSurface);
        this.balls = balls;
    }

    /// <summary>The terrain without fillets.</summary>
    public DraftedTerrain Sharp => terrain;

    /// <summary>
    /// The same for meshing: fillets struck so much deeper that their chords hold as much as the true arcs. No point of them is farther from
    /// the true arc than twice the tolerance.
    /// </summary>
    public FilletedTerrain ForMeshing()
    {
        var deeper = new RollingBall[balls.Length];
        Parallel.For(0, balls.Length, i => deeper[i] = balls[i].Deeper(Deeper(balls[i].Radius)));
        return new(this, [.. deeper]);
    }

    /// <summary>By how much deeper arcs are struck, mm: so that the sector under the chords and what is beside them is the true one.</summary>
    private double Deeper(double radius)
    {
        var (low, high, sector) = (0.0, Chord(radius), radius * radius * Whole / 2);
        while (high - low > 1e-6 * radius)
        {
            var middle = (low + high) / 2;
            var (from, turn) = Arc(radius, radius + middle);
            var steps = RollingBall.Chords(turn, radius + middle, Chord(radius));
            var under = (steps * (radius + middle) * (radius + middle) * Math.Sin(turn / steps) / 2) + (radius * radius * Math.Tan(from));
            if (under < sector) low = middle;
            else high = middle;
        }

        return high;
    }

    /// <inheritdoc/>
    public double GroundHeight => terrain.GroundHeight;

    /// <inheritdoc/>
    public PlanRegion Footprint => terrain.Footprint;

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p) => Highest(p, terrain.At(p));

    /// <summary>How much higher than the sharp terrain it is, mm.</summary>
    public double Raise(Vec2 p)
    {
        var sharp = terrain.At(p);
        return Highest(p, sharp).Height - sharp.Height;
    }

    /// <summary>What the fillets add, mm³.</summary>
    /// <param name="error">Wanted accuracy, mm³.</param>
    public double AddedVolume(double error)
    {
        if (balls.IsEmpty) return 0;
        var flats = terrain.Flats().ToArray();
        var lines = balls.SelectMany((b, i) => Lines(b, floorOf[i], b.Radius / 30))
            .Concat(terrain.Bendings());
        var zone = PlanRegion.Union(balls.Select((b, i) => b.Reach.Intersection(floorOf[i].Within)))
            .Difference(PlanRegion.Union(flats.Where(f => !floorOf.Any(o => o.Height == f.Height)).Select(f => f.Region)));
        // Where a fillet ends, it does so within a part of its radius; an end that a cube of the second size holds does not count.
        return FilletVolume.Of(this, zone, lines, error, Math.Max(balls.Min(b => b.Radius) / 4, Math.Cbrt(100 * error)));
    }

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        if (surface < terrain.SurfaceCount) return terrain.Extended(surface, p, out gradient);
        var i = BallOf(surface);
        return balls[i].Extended(surface - firstSurface[i], p, out gradient);
    }

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) =>
        surface < terrain.SurfaceCount ? terrain.SteepestFacet(surface, margin) : 1 / Math.Tan(angle - ((1 - margin) * DraftedTerrain.AngleSlack));

    /// <inheritdoc/>
    public double Leeway(int surface) => surface < terrain.SurfaceCount ? 1 : Chord(balls[BallOf(surface)].Radius) / tolerance;

    /// <summary>The flats of the sharp terrain without what fillets cover.</summary>
    public IEnumerable<Plateau> Flats()
    {
        foreach (var flat in terrain.Flats())
        {
            var left = floorOf.Any(f => f.Height == flat.Height)
                ? Covered(flat.Height).Aggregate(flat.Region, (region, fillet) => region.Difference(fillet)).WithoutSlivers(terrain.SliverWidth)
                : flat.Region;
            if (!left.IsEmpty) yield return flat with { Region = left };
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

        Vec2 Uncovered(Vec2 free, Vec2 covered, double limit) => LastHolding(free, covered, p => Raise(p) <= limit);
    }

    /// <summary>Level lines of the fillets, so far apart that chords between them keep twice the tolerance, and the ends of those between walls.</summary>
    public IEnumerable<ImmutableArray<Vec2>> Breaklines() => balls.SelectMany((b, i) => Lines(b, floorOf[i], Chord(b.Radius)));

    private IEnumerable<ImmutableArray<Vec2>> Lines(RollingBall ball, FilletedFloor floor, double chord)
    {
        var (from, turn) = Arc(ball.Radius, ball.ArcRadius);
        var isWhole = floor.Within.Covers(ball.Reach);
        var steps = RollingBall.Chords(turn, ball.ArcRadius, chord);
        List<Vec2> cuts = [], before = [];
        for (var k = 0; k <= steps; k++)
        {
            var (s, c) = Math.SinCos(from + (turn * k / steps));
            var level = ball.Reach.Offset(-ball.ArcRadius * s, chord);
            if (isWhole)
            {
                foreach (var line in level.Borders()) yield return line;
                continue;
            }

            // Where the floor ends, the fillet ends at a face that leans back as walls do; the line in which they meet goes from end to end.
            var height = floor.Height + ball.Radius - (ball.ArcRadius * c);
            foreach (var line in level.Borders().SelectMany(l => Stretches(l, ball.Radius, p => ball.CutHeight(p) >= height, cuts))) yield return line;
            var step = ball.ArcRadius * turn / steps;
            foreach (var end in cuts)
                if (before.Count > 0 && before.MinBy(p => Vec2.Distance(p, end)) is var last && Vec2.Distance(last, end) is > 0 and var far && far < 2 * step) yield return [last, end];
            (before, cuts) = (cuts, []);
        }

        foreach (var line in ball.TopArcs(chord)) yield return line;
    }

    /// <summary>The stretches of a line over which something holds, which is asked along it at every <paramref name="apart"/> mm; where it ends is found by halving.</summary>
    private IEnumerable<ImmutableArray<Vec2>> Stretches(ImmutableArray<Vec2> line, double apart, Func<Vec2, bool> holds, List<Vec2> cuts)
    {
        var stretch = ImmutableArray.CreateBuilder<Vec2>();
        var held = holds(line[0]);
        if (held) stretch.Add(line[0]);
        for (var i = 1; i < line.Length; i++)
        {
            var (a, b) = (line[i - 1], line[i]);
            var parts = (int)Math.Ceiling(Vec2.Distance(a, b) / apart);
            for (var k = 1; k <= parts; k++)
            {
                var (from, to) = (a + ((double)(k - 1) / parts * (b - a)), k == parts ? b : a + ((double)k / parts * (b - a)));
                var holdsNow = holds(to);
                if (holdsNow != held)
                {
                    stretch.Add(held ? LastHolding(from, to, holds) : LastHolding(to, from, holds));
                    cuts.Add(stretch[^1]);
                    if (held) yield return Taken();
                    held = holdsNow;
                }
            }

            if (held) stretch.Add(b);
        }

        if (stretch.Count > 1) yield return Taken();

        ImmutableArray<Vec2> Taken()
        {
            var taken = stretch.ToImmutable();
            stretch.Clear();
            return taken;
        }
    }

    /// <summary>The last point, to a lattice step, at which something holds between a point where it does and one where it does not; by halving.</summary>
    private Vec2 LastHolding(Vec2 inside, Vec2 outside, Func<Vec2, bool> holds)
    {
        while (Vec2.Distance(inside, outside) > terrain.Lattice.Step)
        {
            var middle = 0.5 * (inside + outside);
            if (holds(middle)) inside = middle;
            else outside = middle;
        }

        return inside;
    }

    private TerrainSample Highest(Vec2 p, TerrainSample sharp)
    {
        var best = sharp;
        for (var i = 0; i < balls.Length; i++)
            if (balls[i].TryRaise(p, sharp, out var raised) && raised.Height > best.Height)
                best = raised with { Surface = firstSurface[i] + raised.Surface };
        return best;
    }

    private double Chord(double radius) => Math.Clamp(radius * ChordOverRadius, tolerance, 2 * tolerance);

    private int BallOf(int surface)
    {
        var i = firstSurface.Length - 1;
        while (firstSurface[i] > surface) i--;
        return i;
    }

    /// <summary>How far a fillet turns from the floor to the steepest wall, radians.</summary>
    private double Whole => (Math.PI / 2) - angle;

    /// <summary>Where an arc leaves the floor, as angle from the upright, and how far it turns to the steepest wall.</summary>
    private (double From, double Turn) Arc(double radius, double struck)
    {
        var from = Math.Acos(Math.Min(1, radius / struck));
        return (from, Whole - (2 * from));
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
