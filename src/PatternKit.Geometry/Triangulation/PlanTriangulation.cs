using static PatternKit.Geometry.Triangulation.LatticePredicates;

namespace PatternKit.Geometry.Triangulation;

/// <summary>
/// A constrained Delaunay triangulation of a rectangle of the plan, on whole-number coordinates, so that no decision is
/// ever wrong. Points are inserted one by one (Lawson 1977: split, then flip what is not Delaunay); segments are
/// forced in by flips (Sloan 1993). Half-edge h runs from <c>Origin(h)</c> to the origin of the next half-edge of its
/// triangle h / 3; every triangle turns left. Not safe for use by several threads.
/// </summary>
public sealed partial class PlanTriangulation
{
    private const int None = -1;
    private readonly List<LatticePoint> points = [];
    private readonly List<int> origin = [];
    private readonly List<int> twin = [];
    private readonly List<bool> constrained = [];
    private readonly List<int> edgeFrom = [];
    private readonly Stack<int> suspects = new();
    private readonly Dictionary<LatticePoint, int> byPoint = [];
    private int lastTriangle;

    /// <summary>Starts with the two triangles of a rectangle that strictly contains everything to come.</summary>
    public PlanTriangulation(LatticePoint low, LatticePoint high)
    {
        Span<LatticePoint> corners = [low, new(high.X, low.Y), high, new(low.X, high.Y)];
        foreach (var c in corners)
        {
            AddPoint(c);
        }

        AddTriangle(0, 1, 2);
        AddTriangle(0, 2, 3);
        Link(2, 3);
    }

    /// <summary>Number of points, the four corners of the rectangle first.</summary>
    public int PointCount => points.Count;

    /// <summary>Number of triangles.</summary>
    public int TriangleCount => origin.Count / 3;

    /// <summary>Called with every triangle whose corners have changed, new ones included.</summary>
    public Action<int>? Changed { get; set; }

    /// <summary>The next half-edge of the same triangle.</summary>
    public static int Next(int h) => h % 3 == 2 ? h - 2 : h + 1;

    /// <summary>The previous half-edge of the same triangle.</summary>
    public static int Previous(int h) => h % 3 == 0 ? h + 2 : h - 1;

    /// <summary>Where a point lies.</summary>
    public LatticePoint Point(int index) => points[index];

    /// <summary>The point at which a half-edge starts.</summary>
    public int Origin(int h) => origin[h];

    /// <summary>The same edge walked the other way, in the neighbouring triangle; −1 on the rectangle.</summary>
    public int Twin(int h) => twin[h];

    /// <summary>Whether the edge was forced in and must stay.</summary>
    public bool IsConstrained(int h) => constrained[h];

    /// <summary>Whether the point is there already, and its number.</summary>
    public bool TryFind(LatticePoint p, out int index) => byPoint.TryGetValue(p, out index);

    /// <summary>Inserts a point and restores the Delaunay property; an edge that it lies on is split and stays constrained.</summary>
    /// <returns>The number of the point; the old one when it was there.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is outside the rectangle.</exception>
    public int Insert(LatticePoint p)
    {
        if (byPoint.TryGetValue(p, out var known)) return known;
        var (triangle, onEdge) = Locate(p, lastTriangle);
        var v = AddPoint(p);
        if (onEdge == None) SplitTriangle(triangle, v);
        else SplitEdge(onEdge, v);
        Legalize(v);
        return v;
    }

    /// <summary>
    /// Inserts a point that is meant to lie on the constrained edge h but may miss it by the rounding to the lattice:
    /// the edge is bent through it.
    /// </summary>
    /// <returns>The number of the point, or −1 when the bend would turn a triangle over or the point is there already.</returns>
    public int InsertOn(int h, LatticePoint p)
    {
        var v = TrySplit(h, p);
        if (v != None) Legalize(v);
        return v;
    }

    /// <summary>Forces the segment between two points in. Points that lie on it split it.</summary>
    /// <returns>False, with the segment forced in up to there only, when it crosses one that was forced in before.</returns>
    public bool TryConstrain(int from, int to)
    {
        while (from != to)
        {
            from = ConstrainUpToFirstPoint(from, to);
            if (from == None) return false;
        }

        return true;
    }

    /// <summary>Any half-edge that starts at a point.</summary>
    public int AnyFrom(int v) => edgeFrom[v];

    /// <summary>The half-edge from one point to another, −1 when they are not joined.</summary>
    public int Find(int from, int to)
    {
        foreach (var h in Around(from))
            if (origin[Next(h)] == to) return h;
        return None;
    }

    /// <summary>The half-edges that start at a point, counter-clockwise when the point is inside.</summary>
    public IEnumerable<int> Around(int v)
    {
        var start = AnyFrom(v);
        var h = start;
        do
        {
            yield return h;
            h = twin[Previous(h)];
        }
        while (h != start && h != None);
        if (h != None) yield break;
        h = twin[start];
        while (h != None)
        {
            h = Next(h);
            yield return h;
            h = twin[h];
        }
    }

    private void Fix(int h)
    {
        constrained[h] = true;
        if (twin[h] != None) constrained[twin[h]] = true;
    }

    /// <summary>Makes an edge free again; it may then be turned.</summary>
    public void Release(int h)
    {
        constrained[h] = false;
        if (twin[h] != None) constrained[twin[h]] = false;
    }

    /// <summary>Splits an edge at a point strictly between, or nearly so, without any flips: for final clean-up.</summary>
    public int SplitWithoutFlips(int h, LatticePoint p)
    {
        var v = TrySplit(h, p);
        suspects.Clear();
        return v;
    }

    /// <summary>
    /// Draws the start of half-edge h into its end, when every triangle around it still turns left afterwards. Two triangles drop out:
    /// their corners become all the same point. For final clean-up; nothing can be inserted any more.
    /// </summary>
    /// <returns>The numbers of the triangles that dropped out; null, and nothing changed, when it cannot be done.</returns>
    public (int First, int Second)? TryCollapse(int h)
    {
        var g = twin[h];
        if (g == None) return null;
        var (v, u) = (origin[h], origin[g]);
        var around = Around(v).ToArray();
        if (around.Any(e => twin[e] == None)) return null;
        // Two points joined by more than the two triangles at the edge would leave an edge used twice.
        var neighbours = around.Select(e => origin[Next(e)]).ToHashSet();
        if (Around(u).Count(e => neighbours.Contains(origin[Next(e)])) != 2) return null;
        foreach (var e in around)
        {
            if (e / 3 == h / 3 || e / 3 == g / 3) continue;
            if (Orient(points[u], points[origin[Next(e)]], points[origin[Previous(e)]]) <= 0) return null;
        }

        foreach (var e in around) origin[e] = u;
        foreach (var dead in (ReadOnlySpan<int>)[h, g])
        {
            var (a, b) = (Next(dead), Previous(dead));
            var fixedEdge = constrained[a] || constrained[b];
            var (outer, inner) = (twin[a], twin[b]);
            Link(outer, inner);
            constrained[outer] = constrained[inner] = fixedEdge;
            // The third corner keeps a half-edge that lives.
            edgeFrom[origin[outer]] = outer;
            edgeFrom[origin[inner]] = inner;
        }

        foreach (var dead in (ReadOnlySpan<int>)[h, g])
        {
            var t = dead / 3;
            (origin[3 * t], origin[(3 * t) + 1], origin[(3 * t) + 2]) = (u, u, u);
            (twin[3 * t], twin[(3 * t) + 1], twin[(3 * t) + 2]) = (None, None, None);
        }

        return (h / 3, g / 3);
    }

    /// <summary>
    /// Swaps the diagonal of the two triangles at an edge when the four points are strictly convex. Twice is not never: each time the
    /// diagonal makes a quarter turn, so that the triangles change places (see <see cref="UndoFlip"/>).
    /// </summary>
    public bool TryFlip(int h)
    {
        if (twin[h] == None || constrained[h] || !IsFlippable(h)) return false;
        Flip(h);
        return true;
    }
}
