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
/// Unlike the ball of <see cref="RollingBall"/> it rolls on edges, too. Where one side has an inside corner of its own that no such ball has filled, the fillet ends before it, in a
/// face as steep as walls: else the surface would jump where the ball begins to touch a third plane.
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

    /// <summary>Chords of a foot on the ground keep to this part of the radius.</summary>
    private const double FootOverRadius = 1 / 2000.0;

    /// <summary>Smaller turns of one side along a valley are those of chords, radians.</summary>
    private const double LeastKink = Math.PI / 22;

    /// <summary>A corner is filled where what is there is so near to the ball, mm.</summary>
    private const double Apart = 0.05;

    /// <summary>Steps where the fillet ends are no higher, mm: what chords of the valley leave on a steep wall.</summary>
    private const double Flush = 0.05;

    /// <summary>Where a fillet ends on a steep wall or on the ground it may be so far off, mm.</summary>
    private const double RimOff = 0.02;

    /// <summary>Halvings of a chord.</summary>
    private const int Deepest = 12;

    private readonly SlopedGround ground;
    private readonly ImmutableArray<ImmutableArray<Contact>> runs;
    private readonly ImmutableArray<(bool AtStart, bool AtEnd)> isCut;
    private readonly ImmutableArray<int> lidOf;
    private readonly ImmutableArray<UpperEnvelope<Primitive>> lids;
    private readonly ImmutableArray<int> firstOfLid;
    private readonly UpperEnvelope<Primitive> valleys;
    private readonly RoundedCone profile;
    private readonly double level;
    private readonly Lattice lattice;
    private readonly Vec2 low;
    private readonly Vec2 high;
    private readonly IndexedPointInAreaLocator? beside;

    /// <summary>Where the ball is, and the directions from both places where it touches.</summary>
    private readonly record struct Contact(Vec3 Centre, Vec3 First, Vec3 Second);

    private SlopedFillet(DraftedTerrain terrain, SlopedGround ground, double radius, Func<Vec2, double> height)
    {
        (this.ground, Radius, level, lattice) = (ground, radius, terrain.GroundHeight, terrain.Lattice);
        profile = new(Math.Min(terrain.OpenAngle, terrain.EnclosedAngle), radius);
        var margin = ((terrain.Levels.FirstOrDefault(level) - level + radius) * Math.Tan(Math.Max(terrain.OpenAngle, terrain.EnclosedAngle))) + (2 * radius);
        (low, high) = (ground.Low - new Vec2(margin, margin), ground.High + new Vec2(margin, margin));
        var parts = Runs().SelectMany(r => Parts(r, height)).ToArray();
        (runs, isCut) = ([.. parts.Select(p => p.Run)], [.. parts.Select(p => p.IsCut)]);
        (valleys, lidOf, lids, firstOfLid) = Eroded(profile);
        Covered = PlanRegion.UnionOn(terrain.Lattice, Strips()).WithoutSlivers(terrain.SliverWidth);
        Beside = PlanRegion.UnionOn(terrain.Lattice, Feet(terrain.Footprint)).WithoutSlivers(terrain.SliverWidth);
        beside = Beside.IsEmpty ? null : new(Beside.Geometry);
    }

    private SlopedFillet(SlopedFillet same, double struck)
    {
        (ground, runs, isCut, level, lattice, low, high, beside) = (same.ground, same.runs, same.isCut, same.level, same.lattice, same.low, same.high, same.beside);
        (Radius, Covered, Beside) = (same.Radius, same.Covered, same.Beside);
        profile = new(same.profile.Angle, struck);
        (valleys, lidOf, lids, firstOfLid) = Eroded(profile);
    }

    /// <summary>r, mm.</summary>
    public double Radius { get; }

    /// <summary>The plan that the fillet lies over, above the ground.</summary>
    public PlanRegion Covered { get; }

    /// <summary>What of that is beside the terrain's own footprint: between walls that meet in an inside corner.</summary>
    public PlanRegion Beside { get; }

    /// <summary>How many numbers the surfaces take.</summary>
    public int SurfaceCount => valleys.Primitives.Length + 1 + lids.Sum(l => l.Primitives.Length);

    /// <summary>The fillet; null where a terrain has no sloped ground that meets another.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="within">What of it takes part.</param>
    /// <param name="radius">r, mm.</param>
    /// <param name="height">The terrain with the fillets of level floors.</param>
    public static SlopedFillet? Of(DraftedTerrain terrain, PlanRegion within, double radius, Func<Vec2, double> height) =>
        SlopedGround.Of(terrain, within, radius) is { } ground && new SlopedFillet(terrain, ground, radius, height) is { runs.IsEmpty: false } fillet ? fillet : null;

    /// <summary>The same, struck deeper, see <see cref="RollingBall.Deeper"/>.</summary>
    public SlopedFillet Deeper(double struck) => new(this, struck);

    /// <summary>The surface where it is above the terrain; false elsewhere.</summary>
    /// <param name="p">The place.</param>
    /// <param name="terrain">The terrain there, other fillets on it.</param>
    /// <param name="raised">The surface.</param>
    public bool TryRaise(Vec2 p, in TerrainSample terrain, out TerrainSample raised)
    {
        raised = default;
        if (IsFar(p)) return false;
        if (terrain.Height <= level) return beside is not null && beside.Locate(new(p.X, p.Y)) != Location.Exterior && TryRise(p, terrain.Height, out raised);
        // Other fillets lie on the rest.
        var side = terrain.Surface < ground.Sides.Length && terrain.Surface >= 0 ? ground.Sides[terrain.Surface] : GroundSide.Rest;
        return side != GroundSide.Neither && TryFill(p, terrain.Height, terrain.Gradient, side == GroundSide.Sloped ? ground.Rest : ground.Sloped, out raised);
    }

    /// <summary>
    /// Whether the surface ends flush everywhere: at the borders of a footprint on the ground, and where the fillet ends on a wall or floor. It does not where the ball
    /// touches a third wall that is not filled, or where a gap is narrower than it.
    /// </summary>
    /// <param name="footprint">Of the terrain with the fillet.</param>
    /// <param name="surface">The terrain with the fillet.</param>
    /// <param name="raise">By how much the fillet is above what is there without it.</param>
    public bool IsFlush(PlanRegion footprint, Func<Vec2, TerrainSample> surface, Func<Vec2, double> raise)
    {
        var (spacing, near) = (Radius / 16, Radius / 1000);
        foreach (var (from, to) in footprint.Sides())
        {
            var inward = (to - from).Normalized().Left;
            var count = (int)Math.Ceiling(Vec2.Distance(from, to) / spacing);
            for (var i = 0; i < count; i++)
            {
                var p = from + ((i + 0.5) / count * (to - from));
                if (IsFar(p)) continue;
                if (surface(p + (near * inward)).Height - level > ((near + RimOff) * profile.Slope) + Flush) return false;
            }
        }

        foreach (var run in runs)
        {
            var (left, lower) = (run.Min(c => c.Centre.X) - Radius, run.Min(c => c.Centre.Y) - Radius);
            var (columns, rows) = ((int)Math.Ceiling((run.Max(c => c.Centre.X) + Radius - left) / spacing), (int)Math.Ceiling((run.Max(c => c.Centre.Y) + Radius - lower) / spacing));
            var raised = new bool[columns + 1, rows + 1];
            var isFlush = true;
            Parallel.For(0, columns + 1, i =>
            {
                for (var j = 0; j <= rows; j++) raised[i, j] = surface(At(i, j)).Height > level && raise(At(i, j)) > 0;
            });
            Parallel.For(0, columns, (i, loop) =>
            {
                for (var j = 0; j < rows; j++)
                {
                    foreach (var (k, l) in new[] { (i + 1, j), (i, j + 1) })
                    {
                        if (raised[i, j] == raised[k, l]) continue;
                        var end = raised[i, j] ? Stretches.LastHolding(At(i, j), At(k, l), near / 10, p => raise(p) > 0) : Stretches.LastHolding(At(k, l), At(i, j), near / 10, p => raise(p) > 0);
                        if (raise(end) is var step && surface(end) is var there && (step <= Flush + (0.6 * RimOff * there.Gradient.Length) || there.Height - step <= level)) continue;
                        isFlush = false;
                        loop.Stop();
                    }
                }
            });
            if (!isFlush) return false;

            Vec2 At(int i, int j) => new(left + (i * spacing), lower + (j * spacing));
        }

        return true;
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

        if (surface > valleys.Primitives.Length)
        {
            var lid = lids.Length - 1;
            while (firstOfLid[lid] > surface) lid--;
            return lids[lid].Primitives[surface - firstOfLid[lid]].Extended(p, out gradient);
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

    /// <summary>The valleys that the ball's underside is hung from; at which of their ends a fillet is cut off, and the faces there: the drafted arcs of the ball.</summary>
    private (UpperEnvelope<Primitive> Valleys, ImmutableArray<int> LidOf, ImmutableArray<UpperEnvelope<Primitive>> Lids, ImmutableArray<int> FirstOfLid) Eroded(RoundedCone by)
    {
        // Half a chord lower the surface meets what it is tangent to a little early, and never stands off it.
        var slack = ChordOverRadius * Radius / 2;
        var (pieces, of, ends) = (ImmutableArray.CreateBuilder<Primitive>(), ImmutableArray.CreateBuilder<int>(), ImmutableArray.CreateBuilder<UpperEnvelope<Primitive>>());
        for (var i = 0; i < runs.Length; i++)
        {
            for (var k = 0; k < runs[i].Length; k++)
            {
                if (k > 0) Add(Primitive.Edge(Down(runs[i][k - 1]), Down(runs[i][k]), by), -1);
                var isEnd = (k == 0 && isCut[i].AtStart) || (k == runs[i].Length - 1 && isCut[i].AtEnd);
                Add(Primitive.Vertex(Down(runs[i][k]), by), isEnd ? ends.Count : -1);
                if (isEnd) ends.Add(Lid(runs[i][k]));
            }
        }

        var first = pieces.Count + 1;
        var firsts = ends.Select(e => (first += e.Primitives.Length) - e.Primitives.Length).ToImmutableArray();
        return (new(pieces.ToImmutable(), double.NegativeInfinity), of.ToImmutable(), ends.ToImmutable(), firsts);

        void Add(Primitive piece, int lid)
        {
            pieces.Add(piece);
            of.Add(lid);
        }

        Vec3 Down(Contact c) => new(c.Centre.X, c.Centre.Y, slack - c.Centre.Z);

        UpperEnvelope<Primitive> Lid(Contact c)
        {
            var (steps, cone) = (TangentArc.Chords(Turn(c), Radius, ChordOverRadius * Radius), new RoundedCone(by.Angle, 0));
            Vec3[] arc = [.. Enumerable.Range(0, steps + 1).Select(k => c.Centre + (by.Radius / Radius * (Below(c, (double)k / steps) - c.Centre)) - new Vec3(0, 0, slack))];
            return new([.. arc.Skip(1).Select((b, k) => Primitive.Edge(arc[k], b, cone)), .. arc.Select(v => Primitive.Vertex(v, cone))], double.NegativeInfinity);
        }
    }

    /// <summary>The parts of a valley that are clear of inside corners of either side that nothing has filled, with the faces in which fillets end there.</summary>
    private IEnumerable<(ImmutableArray<Contact> Run, (bool AtStart, bool AtEnd) IsCut)> Parts(ImmutableArray<Contact> run, Func<Vec2, double> height)
    {
        var along = new double[run.Length];
        for (var i = 1; i < run.Length; i++) along[i] = along[i - 1] + (run[i].Centre - run[i - 1].Centre).Length;
        var crowded = new List<(double From, double To)>();
        for (var i = 1; i < run.Length; i++)
        {
            foreach (var (a, b) in new[] { (run[i - 1].First, run[i].First), (run[i - 1].Second, run[i].Second) })
            {
                // A dilated edge or round turns the direction by no more than the way over the radius; so does a steep wall.
                var turn = Between(a, b);
                if (turn < Math.Max(LeastKink, 3 * (along[i] - along[i - 1]) / Radius)) continue;
                var under = run[i].Centre - (Radius / (a + b).Length * (a + b));
                if (height(under.Plan) >= under.Z - Apart) continue;
                var clear = 1.25 * Radius * Math.Tan(Math.Min(turn, Math.PI / 2) / 2);
                crowded.Add((along[i] - clear, along[i] + clear));
            }
        }

        if (crowded.Count == 0)
        {
            yield return (run, default);
            yield break;
        }

        var part = ImmutableArray.CreateBuilder<Contact>();
        for (var i = 0; i <= run.Length; i++)
        {
            if (i < run.Length && !crowded.Exists(c => along[i] > c.From && along[i] < c.To))
            {
                part.Add(run[i]);
                continue;
            }

            if (part.Count > 1)
            {
                var (atStart, atEnd) = (i - part.Count > 0, i < run.Length);
                // The face there is that of the ball, square to its way; so is a short chord.
                if (atEnd && Aside(part[^1], part[^2]) is { } last) part.Insert(part.Count - 1, last);
                if (atStart && Aside(part[0], part[1]) is { } first) part.Insert(1, first);
                yield return (part.ToImmutable(), (atStart, atEnd));
            }

            part.Clear();
        }
    }

    /// <summary>The place of a valley a little way from one towards another.</summary>
    private Contact? Aside(Contact end, Contact next) =>
        OnCurve(end.Centre.Plan + (Math.Min(0.1, Radius / 200 / (next.Centre - end.Centre).Length) * (next.Centre - end.Centre).Plan), Radius / 100) is { } p ? At(p) : null;

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

    /// <summary>Whether a place is too far from all sloped ground for any of the fillet.</summary>
    public bool IsFar(Vec2 p) => p.X < low.X || p.Y < low.Y || p.X > high.X || p.Y > high.Y;

    private static double Turn(Contact c) => Between(c.First, c.Second);

    /// <summary>The angle between two directions of unit length, radians.</summary>
    private static double Between(Vec3 a, Vec3 b) => Math.Acos(Math.Clamp(Vec3.Dot(a, b), -1, 1));

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
    /// What fillets that climb up between walls cover beside a footprint: near their feet the contour, at the ground, of both terrains filled, with walls running on below it.
    /// Where nothing is filled it is drawn into the metal, so that what is left beside the footprint is filled.
    /// </summary>
    private IEnumerable<PlanRegion> Feet(PlanRegion footprint)
    {
        var metal = new IndexedPointInAreaLocator(footprint.Geometry);
        foreach (var run in runs)
        {
            var points = run.SelectMany(c => new[] { Below(c, 0), Below(c, 0.25), Below(c, 0.5), Below(c, 0.75), Below(c, 1) }).Select(v => v.Plan).Where(p => metal.Locate(new(p.X, p.Y)) == Location.Exterior).ToArray();
            if (points.Length == 0) continue;
            var margin = new Vec2(Radius / 2, Radius / 2);
            var (least, most) = (new Vec2(points.Min(p => p.X), points.Min(p => p.Y)) - margin, new Vec2(points.Max(p => p.X), points.Max(p => p.Y)) + margin);
            var cell = Math.Max(Radius / 10, Math.Max(most.X - least.X, most.Y - least.Y) / MostCells);
            var (metalIn, holes, arcs) = (new List<PlanRegion>(), new List<PlanRegion>(), new List<Vec2>());
            foreach (var curve in LevelCurves.Of(p => IsWithin(p, least, most, cell) ? Filled(p, out _) - level : -1, least, most, cell, 0).Where(c => c.Length > 3 && c[0] == c[^1]))
            {
                var (ring, filled) = Foot(curve, cell);
                arcs.AddRange(filled);
                var region = PlanRegion.UnionOn(lattice, [PlanRegion.Polygon(ring)]);
                // Points drawn into the metal lie inside a border of it and outside one of a hole.
                var around = PlanRegion.Polygon(curve);
                (curve.Count(p => around.Contains(Inward(p, cell))) * 2 > curve.Length ? metalIn : holes).Add(region);
            }

            if (arcs.Count == 0) continue;
            var added = PlanRegion.Union(metalIn).Difference(PlanRegion.Union([footprint, .. holes]));
            foreach (var piece in added.Pieces().Where(q => arcs.Exists(a => q.Geometry.IsWithinDistance(new Point(a.X, a.Y), Radius / 1000)) && q.Area > Radius * Radius / 500))
                // So that rounding leaves no crack between it and the footprint.
                yield return piece.Offset(4 * lattice.Step, lattice.Step);
        }

        static bool IsWithin(Vec2 p, Vec2 low, Vec2 high, double by) => p.X > low.X + (by / 2) && p.Y > low.Y + (by / 2) && p.X < high.X - (by / 2) && p.Y < high.Y - (by / 2);
    }

    /// <summary>A contour with the points that are none of a fillet drawn inward, more points along those that are, and a point of every such stretch.</summary>
    private (Vec2[] Ring, Vec2[] Filled) Foot(ImmutableArray<Vec2> curve, double cell)
    {
        var (ring, arcs) = (new List<Vec2>(), new List<Vec2>());
        for (var i = 0; i + 1 < curve.Length; i++)
        {
            var (a, b) = (curve[i], curve[i + 1]);
            var (isA, isB) = (IsFilled(a), IsFilled(b));
            ring.Add(isA ? a : Inward(a, cell));
            if (isA && isB)
            {
                ring.AddRange(Between(a, b, 0));
                arcs.Add(a);
            }
            else if (isA != isB)
            {
                // The last of the arc lies on the wall.
                var (filled, bare) = isA ? (a, b) : (b, a);
                for (var k = 0; k < 30 && Vec2.Distance(filled, bare) > Touch; k++)
                {
                    var middle = OnContour(0.5 * (filled + bare));
                    if (IsFilled(middle)) filled = middle;
                    else bare = middle;
                }

                if (isA) ring.AddRange(Between(a, filled, 0));
                ring.Add(filled);
                if (isB) ring.AddRange(Between(filled, b, 0));
                arcs.Add(filled);
            }
        }

        return ([.. ring], [.. arcs]);

        bool IsFilled(Vec2 p) => IsOnGround(Filled(p, out var isFilled)) && isFilled;

        IEnumerable<Vec2> Between(Vec2 a, Vec2 b, int depth)
        {
            var middle = OnContour(0.5 * (a + b));
            if (depth == Deepest || Math.Abs(Vec2.Cross(b - a, middle - a)) <= FootOverRadius * Radius * Vec2.Distance(a, b) || Vec2.Distance(middle, a) > Vec2.Distance(a, b)) return [];
            return [.. Between(a, middle, depth + 1), middle, .. Between(middle, b, depth + 1)];
        }

        // Walls are steep, so that a few steps along the slope come near enough.
        Vec2 OnContour(Vec2 p)
        {
            for (var k = 0; k < 8; k++)
            {
                var off = Filled(p, out _, out var gradient) - level;
                if (Math.Abs(off) < Touch || gradient.LengthSquared < 1) break;
                p -= off / gradient.LengthSquared * gradient;
            }

            return p;
        }
    }

    /// <summary>A place of a wall's foot drawn into the metal.</summary>
    private Vec2 Inward(Vec2 p, double cell)
    {
        // Where the contour runs along the border of what was looked at, it is in the metal.
        return !IsOnGround(Filled(p, out _, out var gradient)) || gradient == default ? p : p + (cell / 4 * gradient.Normalized());
    }

    private bool IsOnGround(double height) => Math.Abs(height - level) < Flush;

    private double Filled(Vec2 p, out bool isFilled) => Filled(p, out isFilled, out _);

    /// <summary>Height of both terrains with the fillet, walls running on below the ground.</summary>
    private double Filled(Vec2 p, out bool isFilled, out Vec2 gradient)
    {
        var (sloped, rest) = (ground.SharpSloped.At(p), ground.SharpRest.At(p));
        var (sharp, other) = sloped.Value > rest.Value ? (sloped, ground.Rest) : (rest, ground.Sloped);
        gradient = sharp.Gradient;
        isFilled = TryFill(p, sharp.Value, sharp.Gradient, other, out var raised);
        if (isFilled) gradient = raised.Gradient;
        return isFilled ? raised.Height : sharp.Value;
    }

    /// <summary>The fillet over a place of a surface, if a ball that rests there enters what is on the other side.</summary>
    private bool TryFill(Vec2 p, double height, Vec2 gradient, UpperEnvelope<Primitive> other, out TerrainSample raised)
    {
        raised = default;
        var up = Radius / Math.Sqrt(1 + gradient.LengthSquared);
        return other.Exceeds(p - (up * gradient), height + up + Touch) && TryRise(p, height, out raised);
    }

    private bool TryRise(Vec2 p, double height, out TerrainSample raised)
    {
        var valley = valleys.At(p, -height);
        raised = new(-valley.Value, -valley.Gradient, valley.Primitive);
        if (raised.Height <= height) return false;
        if (lidOf[valley.Primitive] is >= 0 and var lid)
        {
            var falling = lids[lid].At(p);
            raised = new(falling.Value, falling.Gradient, firstOfLid[lid] + falling.Primitive);
        }

        if (Dilated(p) is var above && above.Value - Radius < raised.Height) raised = new(above.Value - Radius, above.Gradient, valleys.Primitives.Length);
        return raised.Height > height;
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
