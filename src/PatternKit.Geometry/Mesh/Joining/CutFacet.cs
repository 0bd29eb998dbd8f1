namespace PatternKit.Geometry.Mesh.Joining;

/// <summary>
/// A facet and the lines at which others meet it, cut into facets that no line passes: corners are put in one by one, and sides of the pieces are flipped until every stretch of a
/// line is one, and then until they are Delaunay's (Sloan 1993), so that facets that lie on each other come out in the same pieces. All questions are answered exactly, so that it always ends.
/// </summary>
internal sealed class CutFacet
{
    private readonly ExactFacet facet;
    private readonly Func<ExactPoint, int> number;
    private readonly Dictionary<int, ExactPoint> points = [];
    private readonly HashSet<(int A, int B)> stretches = [];
    private readonly int[] corners;

    // For each side, the corner across on its left.
    private readonly Dictionary<(int A, int B), int> across = [];

    /// <summary>Takes a facet.</summary>
    /// <param name="facet">The facet.</param>
    /// <param name="number">Numbers points; the same for all facets.</param>
    public CutFacet(ExactFacet facet, Func<ExactPoint, int> number)
    {
        (this.facet, this.number) = (facet, number);
        corners = [.. facet.Corners.Select(Take)];
    }

    /// <summary>Takes a line along which another facet meets this one.</summary>
    public void Add(ExactPoint[] line)
    {
        var numbers = line.Select(Take).ToArray();
        for (var i = 1; i < numbers.Length; i++) stretches.Add(Both(numbers[i - 1], numbers[i]));
    }

    /// <summary>The pieces, by numbers of their corners, turned as the facet is.</summary>
    public IEnumerable<Facet> Pieces()
    {
        var sides = Noded();
        Put(corners[0], corners[1], corners[2]);
        foreach (var v in points.Keys.Except(corners).Order()) Insert(v);
        foreach (var (a, b) in sides.Order()) Enforce(a, b);
        Settle(sides);
        return across.Where(s => s.Key.A < s.Key.B && s.Key.A < s.Value).Select(s => new Facet(s.Key.A, s.Key.B, s.Value)).OrderBy(f => (f.A, f.B, f.C));
    }

    private int Take(ExactPoint p)
    {
        var v = number(p);
        points[v] = p;
        return v;
    }

    private static (int, int) Both(int a, int b) => (Math.Min(a, b), Math.Max(a, b));

    /// <summary>The stretches cut where they pass each other or a point.</summary>
    private HashSet<(int A, int B)> Noded()
    {
        (int A, int B)[] all = [.. stretches.Order()];
        for (var i = 0; i < all.Length; i++)
        {
            for (var j = i + 1; j < all.Length; j++)
            {
                var ((a, b), (c, d)) = (all[i], all[j]);
                if (a != c && a != d && b != c && b != d && facet.Passing(points[a], points[b], points[c], points[d]) is { } p) Take(p);
            }
        }

        var noded = new HashSet<(int, int)>();
        foreach (var (a, b) in all)
        {
            var (from, to) = (points[a], points[b]);
            int[] on = [a, .. points.Where(p => p.Key != a && p.Key != b && facet.IsBetween(from, to, p.Value)).Select(p => p.Key), b];
            Array.Sort(on, (v, w) => ExactPoint.Compare(points[v], points[w]));
            for (var i = 1; i < on.Length; i++) noded.Add(Both(on[i - 1], on[i]));
        }

        return noded;
    }

    private void Put(int a, int b, int c) => (across[(a, b)], across[(b, c)], across[(c, a)]) = (c, a, b);

    private void Remove(int a, int b, int c)
    {
        across.Remove((a, b));
        across.Remove((b, c));
        across.Remove((c, a));
    }

    private int Turn(int a, int b, int c) => facet.Turn(points[a], points[b], points[c]);

    private void Insert(int v)
    {
        foreach (var ((a, b), c) in across)
        {
            if (a > b || a > c) continue;
            var (ab, bc, ca) = (Turn(a, b, v), Turn(b, c, v), Turn(c, a, v));
            if (ab < 0 || bc < 0 || ca < 0) continue;
            if (ab == 0) Halve(a, b, v);
            else if (bc == 0) Halve(b, c, v);
            else if (ca == 0) Halve(c, a, v);
            else
            {
                Remove(a, b, c);
                Put(a, b, v);
                Put(b, c, v);
                Put(c, a, v);
            }

            return;
        }

        throw new InvalidOperationException("A point at which facets meet lies outside one of them.");
    }

    private void Halve(int a, int b, int v)
    {
        foreach (var (s, e) in new[] { (a, b), (b, a) })
        {
            if (!across.TryGetValue((s, e), out var c)) continue;
            Remove(s, e, c);
            Put(s, v, c);
            Put(v, e, c);
        }
    }

    private void Enforce(int a, int b)
    {
        if (across.ContainsKey((a, b)) || across.ContainsKey((b, a))) return;
        var waiting = new Queue<(int U, int V)>(across.Keys.Where(s => s.A < s.B && across.ContainsKey((s.B, s.A)) && Passes(s.A, s.B)).Order());
        while (waiting.TryDequeue(out var side))
        {
            var (u, v) = side;
            var (p, q) = (across[(u, v)], across[(v, u)]);
            if (Turn(p, q, u) * Turn(p, q, v) >= 0)
            {
                waiting.Enqueue(side);
                continue;
            }

            Flip(u, v, p, q);
            if (Passes(p, q)) waiting.Enqueue(Both(p, q));
        }

        bool Passes(int u, int v) => u != a && u != b && v != a && v != b && Turn(a, b, u) * Turn(a, b, v) < 0 && Turn(u, v, a) * Turn(u, v, b) < 0;
    }

    /// <summary>Flips sides that are no line's while a corner across lies in a piece's circle; of corners on one circle, the first has sides to all.</summary>
    private void Settle(HashSet<(int A, int B)> fixedSides)
    {
        var waiting = new Queue<(int U, int V)>(across.Keys.Where(s => s.A < s.B).Order());
        while (waiting.TryDequeue(out var side))
        {
            var (u, v) = side;
            if (fixedSides.Contains(side) || !across.TryGetValue((u, v), out var p) || !across.TryGetValue((v, u), out var q)) continue;
            var isIn = facet.InCircle(points[u], points[v], points[p], points[q]);
            if (isIn < 0 || (isIn == 0 && Math.Min(u, v) < Math.Min(p, q)) || Turn(p, q, u) * Turn(p, q, v) >= 0) continue;
            Flip(u, v, p, q);
            foreach (var beside in new[] { Both(u, p), Both(p, v), Both(v, q), Both(q, u) }) waiting.Enqueue(beside);
        }
    }

    private void Flip(int u, int v, int p, int q)
    {
        Remove(u, v, p);
        Remove(v, u, q);
        Put(u, q, p);
        Put(q, v, p);
    }
}
