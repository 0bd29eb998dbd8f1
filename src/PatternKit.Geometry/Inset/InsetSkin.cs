using System.Collections.Immutable;
using NetTopologySuite.Algorithm;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Inset;

/// <summary>The skin of a standing body, continued beyond its border as far as a ball inside it can feel: walls run on below the foot, tops beyond upright walls.</summary>
internal sealed class InsetSkin
{
    /// <summary>Two planes of one direction: their sides in plan give no mitre.</summary>
    private const double Parallel = 1e-6;

    /// <summary>A mitre is no longer than this many times the way of its walls.</summary>
    private const double Longest = 8;

    /// <summary>An arc is cut into parts of no more than this, radians: chords keep within a fifth of a percent of the radius.</summary>
    private const double Part = Math.PI / 24;

    /// <summary>The skin goes on below the foot for so much more than the radius, mm.</summary>
    private const double Margin_mm = 0.1;

    private readonly double by;

    /// <summary>An edge that does not jut out.</summary>
    /// <param name="A">One end.</param>
    /// <param name="B">The other.</param>
    /// <param name="First">Unit normal of the facet on one side.</param>
    /// <param name="Second">That on the other.</param>
    public readonly record struct Valley(int A, int B, Vec3 First, Vec3 Second);

    private InsetSkin(ImmutableArray<Vec3> vertices, ImmutableArray<Facet> facets, ImmutableArray<Valley> valleys, ImmutableArray<int> hollows, double by) =>
        (Vertices, Facets, Valleys, Hollows, this.by) = (vertices, facets, valleys, hollows, by);

    /// <summary>Corners.</summary>
    public ImmutableArray<Vec3> Vertices { get; }

    /// <summary>Facets, all looking up.</summary>
    public ImmutableArray<Facet> Facets { get; }

    /// <summary>Edges that a ball from inside may touch: those that do not jut out.</summary>
    public ImmutableArray<Valley> Valleys { get; }

    /// <summary>Ends of such edges.</summary>
    public ImmutableArray<int> Hollows { get; }

    /// <summary>Continues the skin.</summary>
    /// <param name="body">The body.</param>
    /// <param name="by_mm">Radius of the ball.</param>
    public static InsetSkin Of(StandingBody body, double by_mm)
    {
        var vertices = body.Mesh.Vertices.ToBuilder();
        var facets = body.Skin.ToBuilder();
        var beside = new Dictionary<(int, int), Facet>();
        foreach (var f in body.Skin)
            foreach (var side in new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) })
                beside[side] = f;
        var before = body.Rim.ToDictionary(s => s.To, s => s);
        var after = body.Rim.ToDictionary(s => s.From, s => s);
        var (lower, drop) = (new Dictionary<int, int>(), by_mm + Margin_mm);
        foreach (var side in body.Rim)
        {
            if (body.IsFoot(side))
            {
                var (a, b) = (Lower(side.From), Lower(side.To));
                facets.Add(new(side.From, b, side.To));
                facets.Add(new(side.From, a, b));
                continue;
            }

            // Beyond an upright wall the top goes on; its quads may overlap, all of them being in its plane.
            var (from, to) = (body.Mesh.Vertices[side.From], body.Mesh.Vertices[side.To]);
            if (from.Plan == to.Plan) continue;
            var outward = ((3 * by_mm) + 1) * -(to.Plan - from.Plan).Normalized().Left;
            var rise = Vec2.Dot(Gradient(body.Mesh, beside[side]), outward);
            var n = vertices.Count;
            var beyond = new Vec3(outward.X, outward.Y, rise);
            vertices.AddRange(from, to, to + beyond, from + beyond);
            facets.AddRange(new Facet(n, n + 2, n + 1), new Facet(n, n + 3, n + 2));
        }

        var (valleys, hollows) = Hollow(vertices, facets);
        return new(vertices.ToImmutable(), facets.ToImmutable(), valleys, hollows, by_mm);

        // Where both walls at a corner of the foot are deeper by the drop.
        int Lower(int v)
        {
            if (lower.TryGetValue(v, out var known)) return known;
            var (p, g, h) = (body.Mesh.Vertices[v], Gradient(body.Mesh, beside[before[v]]), Gradient(body.Mesh, beside[after[v]]));
            var (down, other) = (-drop / g.LengthSquared * g, -drop / h.LengthSquared * h);
            var det = Vec2.Cross(g, h);
            var way = 0.5 * (down + other);
            if (Math.Abs(det) > Parallel * g.Length * h.Length && body.IsFoot(before[v]) && body.IsFoot(after[v]))
            {
                // g·d = h·d = −drop.
                var mitre = drop / det * new Vec2(g.Y - h.Y, h.X - g.X);
                if (mitre.Length <= Longest * Math.Max(down.Length, other.Length)) way = mitre;
            }

            vertices.Add(new(p.X + way.X, p.Y + way.Y, p.Z - drop));
            return lower[v] = vertices.Count - 1;
        }
    }

    /// <summary>What of the plan is nearer to the skin than the radius at a height, in convex pieces.</summary>
    public IEnumerable<IReadOnlyList<Vec2>> Near(double z)
    {
        if (by == 0) yield break;
        foreach (var f in Facets)
        {
            var (a, b, c) = (Vertices[f.A], Vertices[f.B], Vertices[f.C]);
            if (Math.Min(a.Z, Math.Min(b.Z, c.Z)) > z + by || Math.Max(a.Z, Math.Max(b.Z, c.Z)) < z - by) continue;
            var n = Vec3.Cross(b - a, c - a);
            var move = by / n.Length * n;
            // The facet moved inward; what is on its other side is outside.
            if (Section([a - move, b - move, c - move, a, b, c], PrismSides, z) is { } piece) yield return piece;
        }

        // Round an edge the same directions at every height, those of its facets first and last, so that contours have corners above one another.
        foreach (var e in Valleys)
        {
            var (from, to) = (Vertices[e.A], Vertices[e.B]);
            if (Math.Min(from.Z, to.Z) > z + by || Math.Max(from.Z, to.Z) < z - by) continue;
            var turn = Math.Acos(Math.Clamp(Vec3.Dot(e.First, e.Second), -1, 1));
            var parts = Math.Max(1, (int)Math.Ceiling(turn / Part));
            var arc = turn < Parallel ? [by * e.First, by * e.Second]
                : Enumerable.Range(0, parts + 1).Select(k => by / Math.Sin(turn) * ((Math.Sin(turn * (parts - k) / parts) * e.First) + (Math.Sin(turn * k / parts) * e.Second))).ToArray();
            var n = arc.Length;
            (int, int)[] sides =
            [
                (2 * n, (2 * n) + 1),
                .. Enumerable.Range(0, n).SelectMany(k => new[] { (k, k + n), (2 * n, k), ((2 * n) + 1, k + n) }),
                .. Enumerable.Range(0, n - 1).SelectMany(k => new[] { (k, k + 1), (k + n, k + 1 + n) }),
            ];
            if (Section([.. arc.Select(r => from - r), .. arc.Select(r => to - r), from, to], sides, z) is { } piece) yield return piece;
        }

        // What is left between edges that meet; within the arcs beside it.
        const int around = (int)(2 * Math.PI / Part);
        var inner = by * Math.Cos(Part / 2);
        foreach (var p in Hollows.Select(v => Vertices[v]).Where(p => Math.Abs(p.Z - z) < inner))
        {
            var radius = Math.Sqrt((inner * inner) - ((p.Z - z) * (p.Z - z)));
            yield return [.. Enumerable.Range(0, around).Select(i => p.Plan + (radius * new Vec2(Math.Cos(i * Part), Math.Sin(i * Part))))];
        }
    }

    private static readonly (int, int)[] PrismSides = [(0, 1), (1, 2), (2, 0), (3, 4), (4, 5), (5, 3), (0, 3), (1, 4), (2, 5)];

    /// <summary>The level section of a convex body by its corners and sides; null where it has no area.</summary>
    private static IReadOnlyList<Vec2>? Section(Vec3[] corners, (int, int)[] sides, double z)
    {
        var points = new List<Coordinate>(sides.Length);
        foreach (var (i, j) in sides)
        {
            var (p, q) = (corners[i], corners[j]);
            if ((p.Z < z) == (q.Z < z)) continue;
            var at = p.Plan + ((z - p.Z) / (q.Z - p.Z) * (q.Plan - p.Plan));
            points.Add(new(at.X, at.Y));
        }

        // The hull turns right; pieces turn left.
        return points.Count >= 3 && new ConvexHull(points, GeometryFactory.Default).GetConvexHull() is Polygon hull
            ? [.. hull.Shell.Coordinates.Skip(1).Reverse().Select(c => new Vec2(c.X, c.Y))] : null;
    }

    private static Vec2 Gradient(TriangleMesh mesh, Facet f)
    {
        var n = mesh.AreaNormal(f);
        return new(-n.X / n.Z, -n.Y / n.Z);
    }

    private static (ImmutableArray<Valley> Valleys, ImmutableArray<int> Hollows) Hollow(ImmutableArray<Vec3>.Builder vertices, ImmutableArray<Facet>.Builder facets)
    {
        var (apexes, valleys) = (new Dictionary<(int A, int B), int>(), new List<Valley>());
        foreach (var f in facets)
        {
            foreach (var (a, b, c) in new[] { (f.A, f.B, f.C), (f.B, f.C, f.A), (f.C, f.A, f.B) })
            {
                if (!apexes.Remove((b, a), out var other)) apexes.Add((a, b), c);
                else if (Vec3.Dot(Normal(a, b, c), vertices[other] - vertices[a]) > 0) valleys.Add(new(a, b, Normal(a, b, c), Normal(b, a, other)));
            }
        }

        return ([.. valleys], [.. valleys.SelectMany(e => new[] { e.A, e.B }).Distinct().Order()]);

        Vec3 Normal(int a, int b, int c)
        {
            var n = Vec3.Cross(vertices[b] - vertices[a], vertices[c] - vertices[a]);
            return 1 / n.Length * n;
        }
    }
}
