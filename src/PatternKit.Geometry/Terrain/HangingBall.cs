using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The underside of a ball that hangs in the valleys of any terrain, over some cells of the plan: the closing of the terrain by the ball (Serra 1982). The terrain dilated is meshed, so that its valleys,
/// where the ball's centre runs, are edges wherever they are; the mesh is eroded by the same ball, exactly, as the envelope of its faces, valleys and corners turned over. Erosion takes
/// no error of what it erodes for more than it is, so that the surface is as near to the true one as the mesh is to the dilated terrain; and what it
/// slides is the ball on a cone, so that no slope is steeper than the terrain's, whatever the mesh. Where cells end, the surface runs out to the terrain at 45°.
/// </summary>
internal sealed class HangingBall
{
    /// <summary>How near the mesh is to the dilated terrain, over the tolerance and at most over the radius; and, over the tolerance, where the ball rolls over edges.</summary>
    private const double ErrorOverTolerance = 0.2;
    private const double ErrorOverRadius = 1 / 1000.0;
    private const double OverEdgesOverTolerance = 1.5;

    /// <summary>The ball that erodes is larger by this part of that error, so that flat ground comes out below the terrain and not above.</summary>
    private const double Slack = 0.75;

    /// <summary>What is below the ground by so many radii cannot hold a ball up that touches anything above.</summary>
    private const double RadiiBelow = 3;

    /// <summary>Valleys that turn by less give no lines, radians: what is filled there is hardly more than a chord.</summary>
    private const double LeastTurn = Math.PI / 9;

    /// <summary>So far beside a valley, over the radius, the ground on either side of it is asked for its direction.</summary>
    private const double BesideOverRadius = 0.005;

    /// <summary>Points of a valley are no nearer to each other, over the radius; lines end so far before valleys meet.</summary>
    private const double ApartOverRadius = 0.05;
    private const double ShortOverRadius = 0.3;

    /// <summary>Where cells end, the surface rises from the terrain at 45°: as steep as walls it would follow the border in steps of its places.</summary>
    private const double RunOut = Math.PI / 4;

    /// <summary>The border of the cells is followed in steps of no less than this part of a cell's side.</summary>
    private const int BorderParts = 64;

    private readonly CellMask over;
    private readonly DraftedTerrain terrain;
    private readonly UpperEnvelope<Primitive> hanging;
    private readonly UpperEnvelope<Primitive> ends;
    private readonly ImmutableArray<ImmutableArray<Contact>> runs;

    /// <summary>Where the ball is, and the directions from both places where it touches.</summary>
    private readonly record struct Contact(Vec3 Centre, Vec3 First, Vec3 Second)
    {
        /// <summary>Between the two directions, radians.</summary>
        public double Turn => Math.Acos(Math.Clamp(Vec3.Dot(First, Second), -1, 1));
    }

    /// <summary>Hangs the ball.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="over">Where it may fill.</param>
    /// <param name="radius">Of the ball, mm.</param>
    /// <param name="tolerance">Largest distance of facets from the surface, mm.</param>
    public HangingBall(DraftedTerrain terrain, CellMask over, double radius, double tolerance)
    {
        (this.terrain, this.over, Radius) = (terrain, over, radius);
        var cell = over.Grid.Cell.Length;
        var around = over.Grown(radius + (2 * cell));
        var error = Math.Min(ErrorOverTolerance * tolerance, ErrorOverRadius * radius);
        var skin = DilatedSkin.Of(terrain, around, radius, terrain.GroundHeight - (RadiiBelow * radius), OverEdgesOverTolerance * tolerance / error);
        ImmutableArray<ZonedRing> rings = [.. around.Region(terrain.Lattice).Rings().Select(r => new ZonedRing(r, TerrainMesher.Domain))];
        var mesh = TerrainMesher.Mesh(skin, rings, [], terrain.Lattice, new(error), liftChords: false);
        runs = [.. Runs(mesh, skin)];
        var angle = Math.Min(terrain.OpenAngle, terrain.EnclosedAngle);
        hanging = new(TurnedOver(mesh, new(angle, radius + (Slack * error))), double.NegativeInfinity);
        ends = new([], double.NegativeInfinity);
        ends = new(Ends(new(Math.Max(angle, RunOut), 0)), double.NegativeInfinity);
    }

    /// <summary>r, mm.</summary>
    public double Radius { get; }

    /// <summary>Where it may fill.</summary>
    public CellMask Over => over;

    /// <summary>How many numbers the surfaces take.</summary>
    public int SurfaceCount => hanging.Primitives.Length + ends.Primitives.Length;

    /// <summary>The underside where it is above a height, false elsewhere.</summary>
    public bool TryRaise(Vec2 p, double height, out TerrainSample raised)
    {
        raised = default;
        if (!over.Contains(p)) return false;
        var ball = hanging.At(p, -height);
        if (ball.Value >= -height || ball.Primitive < 0) return false;
        raised = new(-ball.Value, -ball.Gradient, ball.Primitive);
        var end = ends.At(p, -height);
        if (end.Primitive < 0 || end.Value <= ball.Value) return true;
        raised = new(-end.Value, -end.Gradient, hanging.Primitives.Length + end.Primitive);
        return raised.Height > height;
    }

    /// <summary>One of the surfaces continued over the plan.</summary>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        var first = hanging.Primitives.Length;
        var height = surface < first ? -hanging.Primitives.ItemRef(surface).Extended(p, out gradient) : -ends.Primitives.ItemRef(surface - first).Extended(p, out gradient);
        gradient = -gradient;
        return height;
    }

    /// <summary>Lines along the fillet from one side to the other, the first and the last only where it is not level there, as borders of flats are lines already.</summary>
    /// <param name="chord">Largest distance of chords from one line to the next from the arc, mm.</param>
    public IEnumerable<ImmutableArray<Vec3>> Lines(double chord)
    {
        foreach (var run in runs)
        {
            var steps = run.Max(c => TangentArc.Chords(c.Turn, Radius, chord));
            for (var k = 0; k <= steps; k++)
            {
                if ((k == 0 && run.All(c => c.First.Plan == default)) || (k == steps && run.All(c => c.Second.Plan == default))) continue;
                yield return [.. run.Select(c => Below(c, (double)k / steps))];
            }
        }
    }

    /// <summary>A place of the ball's underside, 0 where it touches the first and 1 where it touches the second.</summary>
    private Vec3 Below(Contact c, double part)
    {
        var turn = c.Turn;
        return c.Centre - (Radius / Math.Sin(turn) * ((Math.Sin(turn * (1 - part)) * c.First) + (Math.Sin(turn * part) * c.Second)));
    }

    /// <summary>
    /// The valleys of a mesh that turn sharply, between places where they meet others and a little short of those: what is left beside them is for refinement, since lines of
    /// several valleys would cross there by a hair.
    /// </summary>
    private IEnumerable<ImmutableArray<Contact>> Runs(TerrainMesh mesh, DilatedSkin skin)
    {
        var near = new PointCluster(ApartOverRadius * Radius);
        var (apexes, next) = (new HashSet<(int, int)>(), new Dictionary<Vec2, SortedSet<(double, double)>>());
        var order = new List<Vec2>();
        foreach (var f in mesh.Facets)
        {
            foreach (var (a, b) in new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) })
            {
                if (!apexes.Remove((b, a)))
                {
                    apexes.Add((a, b));
                    continue;
                }

                var middle = 0.5 * (mesh.Points[a] + mesh.Points[b]);
                var across = BesideOverRadius * Radius * (mesh.Points[b] - mesh.Points[a]).Normalized().Left;
                var (left, right) = (skin.At(middle + across).Gradient, skin.At(middle - across).Gradient);
                // In a valley the ground rises to both sides.
                if (Vec2.Dot(left - right, across) <= 0 || Vec3.Dot(Normal(left), Normal(right)) > Math.Cos(LeastTurn)) continue;
                var (from, to) = (near.Nearest(mesh.Points[a]), near.Nearest(mesh.Points[b]));
                if (from == to) continue;
                Add(from, to);
                Add(to, from);
            }
        }

        var seen = new HashSet<(Vec2, Vec2)>();
        foreach (var start in order.Where(v => next[v].Count != 2).Concat(order.Where(v => next[v].Count == 2)))
        {
            foreach (var second in next[start].Select(At))
            {
                if (seen.Contains((start, second))) continue;
                List<Vec2> way = [start];
                for (var (from, to) = (start, second); ;)
                {
                    seen.Add((from, to));
                    seen.Add((to, from));
                    way.Add(to);
                    if (next[to].Count != 2 || to == start) break;
                    (from, to) = (to, At(next[to].First(v => At(v) != from)));
                }

                if (Short(way) is { } line && Contacts(line) is { Length: > 1 } contacts) yield return contacts;
            }
        }

        void Add(Vec2 from, Vec2 to)
        {
            if (!next.TryGetValue(from, out var targets))
            {
                next.Add(from, targets = []);
                order.Add(from);
            }

            targets.Add((to.X, to.Y));
        }

        // A line without what is nearer to its ends than a part of the radius; a closed one as it is.
        List<Vec2>? Short(List<Vec2> way)
        {
            if (way[0] == way[^1]) return way;
            var along = new double[way.Count];
            for (var i = 1; i < along.Length; i++) along[i] = along[i - 1] + Vec2.Distance(way[i - 1], way[i]);
            var (first, last) = (ShortOverRadius * Radius, along[^1] - (ShortOverRadius * Radius));
            if (last - first < ShortOverRadius * Radius) return null;
            return [Place(first), .. way.Where((_, i) => along[i] > first + (ApartOverRadius * Radius) && along[i] < last - (ApartOverRadius * Radius)), Place(last)];

            Vec2 Place(double at)
            {
                var i = Array.FindIndex(along, a => a >= at);
                return way[i - 1] + ((at - along[i - 1]) / (along[i] - along[i - 1]) * (way[i] - way[i - 1]));
            }
        }

        ImmutableArray<Contact> Contacts(List<Vec2> line)
        {
            var contacts = ImmutableArray.CreateBuilder<Contact>();
            for (var i = 0; i < line.Count; i++)
            {
                var along = line[Math.Min(i + 1, line.Count - 1)] - line[Math.Max(i - 1, 0)];
                if (line[0] == line[^1] && (i == 0 || i == line.Count - 1)) along = line[1] - line[^2];
                var across = BesideOverRadius * Radius * along.Normalized().Left;
                var here = new Contact(new(line[i].X, line[i].Y, skin.At(line[i]).Height), Normal(skin.At(line[i] + across).Gradient), Normal(skin.At(line[i] - across).Gradient));
                if (here.Turn >= LeastTurn) contacts.Add(here);
            }

            return contacts.ToImmutable();
        }

        static Vec2 At((double X, double Y) v) => new(v.X, v.Y);

        static Vec3 Normal(Vec2 gradient) => 1 / Math.Sqrt(1 + gradient.LengthSquared) * new Vec3(-gradient.X, -gradient.Y, 1);
    }

    /// <summary>Faces, valleys and corners of a mesh, upside down. Along its ridges no ball from below touches it.</summary>
    private static ImmutableArray<Primitive> TurnedOver(TerrainMesh mesh, RoundedCone profile)
    {
        var pieces = ImmutableArray.CreateBuilder<Primitive>();
        var apexes = new Dictionary<(int, int), int>();
        foreach (var f in mesh.Facets)
        {
            pieces.Add(Primitive.Face(At(f.A), At(f.B), At(f.C), profile));
            foreach (var (a, b, c) in new[] { (f.A, f.B, f.C), (f.B, f.C, f.A), (f.C, f.A, f.B) })
            {
                if (apexes.Remove((b, a), out var other))
                {
                    if (!IsRidge(At(a), At(b), At(c), At(other))) pieces.Add(Primitive.Edge(At(a), At(b), profile));
                }
                else
                {
                    apexes.Add((a, b), c);
                }
            }
        }

        foreach (var (a, b) in apexes.Keys) pieces.Add(Primitive.Edge(At(a), At(b), profile));
        for (var v = 0; v < mesh.Points.Length; v++) pieces.Add(Primitive.Vertex(At(v), profile));
        return pieces.ToImmutable();

        Vec3 At(int v) => new(mesh.Points[v].X, mesh.Points[v].Y, -mesh.Heights[v]);

        // Turned over, a valley is a ridge; its own ridges are valleys, where the other corner stands above the plane.
        static bool IsRidge(Vec3 a, Vec3 b, Vec3 c, Vec3 other) => Vec3.Dot(Vec3.Cross(b - a, c - a), other - a) > 0;
    }

    /// <summary>Where the surface would stand out at the border of the cells, places of the terrain there from which it may rise.</summary>
    private ImmutableArray<Primitive> Ends(RoundedCone cone)
    {
        var borders = over.Borders().ToArray();
        var found = new List<Vec3>[borders.Length];
        Parallel.For(0, borders.Length, i =>
        {
            var (from, to) = borders[i];
            found[i] = [];
            var (last, isRaised) = (Ground(from), IsRaised(from));
            const int coarse = 4;
            for (var k = 1; k <= coarse; k++)
            {
                var p = from + ((double)k / coarse * (to - from));
                var (here, raised) = (Ground(p), IsRaised(p));
                if (isRaised || raised) Between(found[i], last, here, BorderParts / coarse);
                (last, isRaised) = (here, raised);
            }
        });
        return [.. found.SelectMany(f => f).Distinct().Select(v => Primitive.Vertex(v, cone))];

        // What goes on below the ground is not seen.
        Vec3 Ground(Vec2 p) => new(p.X, p.Y, -terrain.At(p).Height);

        bool IsRaised(Vec2 p) => -hanging.At(p).Value > terrain.At(p).Height;

        void Between(List<Vec3> into, Vec3 a, Vec3 b, int parts)
        {
            into.Add(a);
            if (parts == 1)
            {
                into.Add(b);
                return;
            }

            var middle = Ground(0.5 * (a.Plan + b.Plan));
            Between(into, a, middle, parts / 2);
            Between(into, middle, b, parts / 2);
        }
    }
}
