using System.Runtime.InteropServices;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Plan;

/// <summary>
/// What is covered by any of some polygons, on a lattice: their rings are snap-rounded all at once, and the triangles between them are counted through
/// from the outside, so that each knows how many polygons cover it. Joining polygons pair by pair takes many times as long where they are many.
/// </summary>
internal sealed class LatticeUnion
{
    private readonly PlanTriangulation triangles;

    /// <summary>By how many polygons more the left of an edge is covered, and of which side of a polygon it is a part.</summary>
    private readonly Dictionary<(int, int), (int Step, int Side)> steps = [];

    /// <summary>How many polygons cover each triangle.</summary>
    private readonly int[] covers;

    private LatticeUnion(LatticePoint[][] sides)
    {
        var (low, high) = (sides[0][0], sides[0][0]);
        foreach (var p in sides.SelectMany(s => s))
        {
            low = new(Math.Min(low.X, p.X), Math.Min(low.Y, p.Y));
            high = new(Math.Max(high.X, p.X), Math.Max(high.Y, p.Y));
        }

        triangles = new(new(low.X - 64, low.Y - 64), new(high.X + 64, high.Y + 64));
        foreach (var ((a, b), (step, side)) in Edges(sides))
        {
            if (step == 0) continue;
            var (from, to) = (triangles.Insert(a), triangles.Insert(b));
            steps.Add((from, to), (step, side));
            steps.Add((to, from), (-step, side));
        }

        foreach (var ((a, b), (step, _)) in steps)
            if (step > 0 && !triangles.TryConstrain(a, b)) throw new InvalidOperationException("Snap-rounded rings cross.");
        covers = Counted();
    }

    /// <summary>The union; every vertex on the lattice.</summary>
    /// <param name="lattice">The lattice.</param>
    /// <param name="rings">Rings of polygons, outer ones counter-clockwise, holes clockwise.</param>
    /// <param name="factory">Makes the polygons.</param>
    public static Polygon[] Of(Lattice lattice, IEnumerable<IReadOnlyList<Vec2>> rings, GeometryFactory factory)
    {
        // Where polygons ought to share a corner and miss by less than a step, they would be rounded apart, and a notch be left.
        var known = new PointCluster(lattice.Step);
        var sides = new List<(LatticePoint From, LatticePoint To)>();
        foreach (var ring in rings)
        {
            var first = Index(ring[0]);
            var last = first;
            // The side that closes a ring comes first.
            var closing = sides.Count;
            sides.Add(default);
            for (var i = 1; i < ring.Count; i++)
            {
                var p = Index(ring[i]);
                if (p != last) sides.Add((last, p));
                last = p;
            }

            if (last != first) sides[closing] = (last, first);
        }

        var left = Opposed(sides);
        return left.Length == 0 ? [] : new LatticeUnion(SnapRounding.Noded(left)).Polygons(lattice, factory);

        LatticePoint Index(Vec2 p)
        {
            p = known.Nearest(p);
            return new(lattice.Index(p.X), lattice.Index(p.Y));
        }
    }

    /// <summary>
    /// The sides without those that another runs along the other way: across both as many polygons cover as before. Of polygons that fit together, as the facets of a round
    /// body, little is left but the border.
    /// </summary>
    private static LatticePoint[][] Opposed(List<(LatticePoint From, LatticePoint To)> sides)
    {
        var forward = new Dictionary<(LatticePoint, LatticePoint), int>(sides.Count);
        foreach (var (from, to) in sides)
        {
            var key = Key(from, to, out var sign);
            CollectionsMarshal.GetValueRefOrAddDefault(forward, key, out _) += sign;
        }

        var left = new List<LatticePoint[]>();
        foreach (var (from, to) in sides)
        {
            if (from == to) continue;
            ref var covers = ref CollectionsMarshal.GetValueRefOrNullRef(forward, Key(from, to, out var sign));
            if (Math.Sign(covers) != sign) continue;
            covers -= sign;
            left.Add([from, to]);
        }

        return [.. left];
    }

    private static (LatticePoint A, LatticePoint B) Key(LatticePoint a, LatticePoint b, out int forward)
    {
        forward = a.X < b.X || (a.X == b.X && a.Y < b.Y) ? 1 : -1;
        return forward > 0 ? (a, b) : (b, a);
    }

    /// <summary>The edges of the sides, each once, with what is crossed there.</summary>
    private static Dictionary<(LatticePoint A, LatticePoint B), (int Step, int Side)> Edges(LatticePoint[][] sides)
    {
        var edges = new Dictionary<(LatticePoint A, LatticePoint B), (int Step, int Side)>();
        for (var side = 0; side < sides.Length; side++)
        {
            for (var i = 1; i < sides[side].Length; i++)
            {
                var key = Key(sides[side][i - 1], sides[side][i], out var forward);
                var (step, first) = edges.GetValueOrDefault(key, (0, side));
                edges[key] = (step + forward, first);
            }
        }

        return edges;
    }

    /// <summary>Counts through the triangles from the outside.</summary>
    private int[] Counted()
    {
        var counts = new int[triangles.TriangleCount];
        var seen = new bool[counts.Length];
        var start = triangles.AnyFrom(0) / 3;
        seen[start] = true;
        var open = new Stack<int>([start]);
        while (open.TryPop(out var t))
        {
            for (var h = 3 * t; h < (3 * t) + 3; h++)
            {
                var g = triangles.Twin(h);
                if (g < 0 || seen[g / 3]) continue;
                seen[g / 3] = true;
                // What is on the left of the twin is on the right of this.
                counts[g / 3] = counts[t] + (triangles.IsConstrained(g) ? Edge(g).Step : 0);
                open.Push(g / 3);
            }
        }

        return counts;
    }

    private (int Step, int Side) Edge(int h) => steps[(triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h)))];

    private bool IsBorder(int h) => covers[h / 3] > 0 && covers[triangles.Twin(h) / 3] <= 0;

    private Polygon[] Polygons(Lattice lattice, GeometryFactory factory)
    {
        var piece = Pieces(out var pieces);
        var shells = new LinearRing[pieces];
        var holes = new List<LinearRing>[pieces];
        for (var i = 0; i < pieces; i++) holes[i] = [];
        var visits = new int[triangles.PointCount];
        for (var h = 0; h < 3 * covers.Length; h++)
            if (IsBorder(h)) visits[triangles.Origin(h)]++;
        var done = new bool[3 * covers.Length];
        for (var h = 0; h < done.Length; h++)
        {
            if (done[h] || !IsBorder(h)) continue;
            foreach (var loop in Loops(h, done))
            {
                var isShell = Area(loop) > 0;
                // Where a side is merely bent, by something inside, it is made straight again; what remains is what snap rounding makes of the border alone.
                var corners = loop.Where((e, i) => visits[triangles.Origin(e)] > 1 || Edge(e).Side != Edge(loop[(i + loop.Count - 1) % loop.Count]).Side).ToList();
                if (corners.Count < 3 || Area(corners) == 0 || Area(corners) > 0 != isShell) continue;
                var ring = factory.CreateLinearRing([.. corners.Append(corners[0]).Select(e => At(triangles.Point(triangles.Origin(e))))]);
                if (isShell) shells[piece[h / 3]] = ring;
                else holes[piece[h / 3]].Add(ring);
            }
        }

        return [.. Enumerable.Range(0, pieces).Where(i => shells[i] is not null).Select(i => factory.CreatePolygon(shells[i], [.. holes[i]]))];

        Coordinate At(LatticePoint p) => new(p.X * lattice.Step, p.Y * lattice.Step);
    }

    /// <summary>Twice the area that half-edges run around, in lattice steps.</summary>
    private Int128 Area(List<int> loop)
    {
        Int128 area = 0;
        var first = triangles.Point(triangles.Origin(loop[0]));
        for (var i = 2; i < loop.Count; i++)
            area += LatticePredicates.Orient(first, triangles.Point(triangles.Origin(loop[i - 1])), triangles.Point(triangles.Origin(loop[i])));
        return area;
    }

    /// <summary>Numbers the pieces that hang together by more than points.</summary>
    private int[] Pieces(out int count)
    {
        count = 0;
        var piece = new int[covers.Length];
        Array.Fill(piece, -1);
        var open = new Stack<int>();
        for (var first = 0; first < piece.Length; first++)
        {
            if (covers[first] <= 0 || piece[first] >= 0) continue;
            piece[first] = count;
            open.Push(first);
            while (open.TryPop(out var t))
            {
                for (var h = 3 * t; h < (3 * t) + 3; h++)
                {
                    var n = triangles.Twin(h) / 3;
                    if (covers[n] <= 0 || piece[n] >= 0) continue;
                    piece[n] = count;
                    open.Push(n);
                }
            }

            count++;
        }

        return piece;
    }

    /// <summary>
    /// The border that begins with a half-edge, as loops of half-edges, the inside on its left. It stays within one fan of triangles at every point, and is cut where it comes to
    /// a point again: so a piece has one loop around it, and one for every hole, whatever touches at points.
    /// </summary>
    private List<List<int>> Loops(int start, bool[] done)
    {
        var loops = new List<List<int>>();
        var path = new List<int>();
        var places = new Dictionary<int, int>();
        for (var h = start; !done[h];)
        {
            done[h] = true;
            if (places.TryGetValue(triangles.Origin(h), out var since)) Cut(since);
            places.Add(triangles.Origin(h), path.Count);
            path.Add(h);
            h = PlanTriangulation.Next(h);
            while (!IsBorder(h)) h = PlanTriangulation.Next(triangles.Twin(h));
        }

        loops.Add(path);
        return loops;

        void Cut(int since)
        {
            loops.Add(path[since..]);
            foreach (var h in path[since..]) places.Remove(triangles.Origin(h));
            path.RemoveRange(since, path.Count - since);
        }
    }
}
