using static PatternKit.Geometry.Triangulation.LatticePredicates;

namespace PatternKit.Geometry.Triangulation;

/// <summary>Segments between lattice points, listed by the squares of a coarse grid that they pass: about as many squares as segments.</summary>
internal sealed class SegmentSquares
{
    private readonly (LatticePoint A, LatticePoint B)[] segments;
    private readonly LatticePoint low;
    private readonly LatticePoint high;
    private readonly int side;
    private readonly int columns;
    private readonly int rows;

    /// <summary>The stretches of rows that segments pass; those of segment i from firstRun[i] up to firstRun[i + 1].</summary>
    private readonly List<(int From, int To)> runs = [];
    private readonly int[] firstRun;

    /// <summary>Chooses the grid.</summary>
    /// <param name="points">The points.</param>
    /// <param name="ends">Their numbers by which segments are given; at least one segment.</param>
    public SegmentSquares(IReadOnlyList<LatticePoint> points, IReadOnlyList<(int From, int To)> ends)
    {
        segments = [.. ends.Select(e => (points[e.From], points[e.To]))];
        low = new(points.Min(p => p.X), points.Min(p => p.Y));
        high = new(points.Max(p => p.X), points.Max(p => p.Y));
        double width = high.X - low.X + 1, height = high.Y - low.Y + 1;
        side = (int)Math.Ceiling(Math.Max(Math.Sqrt(width * height / segments.Length), Math.Max(width, height) / segments.Length));
        (columns, rows) = (Column(high.X) + 1, Row(high.Y) + 1);
        firstRun = new int[segments.Length + 1];
        for (var s = 0; s < segments.Length; s++)
        {
            AddRuns(segments[s].A, segments[s].B);
            firstRun[s + 1] = runs.Count;
        }
    }

    /// <summary>Where two segments cross each other between their ends, rounded to the lattice, halves up.</summary>
    public IEnumerable<LatticePoint> Crossings()
    {
        var (first, listed) = Listed();
        for (var square = 0; square < columns * rows; square++)
        {
            for (var i = first[square]; i < first[square + 1]; i++)
            {
                var (a, b) = segments[listed[i]];
                for (var j = i + 1; j < first[square + 1]; j++)
                {
                    var (c, d) = segments[listed[j]];
                    if (TryCross(a, b, c, d, out var crossing)) yield return crossing;
                }
            }
        }
    }

    /// <summary>For every segment the numbers of the points, its ends left out, whose unit squares it passes, in order.</summary>
    /// <param name="hot">The points; none is outside the box of the segments.</param>
    public int[][] Bends(IReadOnlyList<LatticePoint> hot)
    {
        var first = new int[(columns * rows) + 1];
        foreach (var p in hot) first[Square(p) + 1]++;
        for (var i = 1; i < first.Length; i++) first[i] += first[i - 1];
        var listed = new int[hot.Count];
        var next = first.ToArray();
        for (var v = 0; v < hot.Count; v++) listed[next[Square(hot[v])]++] = v;

        var bends = new int[segments.Length][];
        var found = new List<(long Along, int Point)>();
        for (var s = 0; s < bends.Length; s++)
        {
            var (a, b) = segments[s];
            found.Clear();
            for (var run = firstRun[s]; run < firstRun[s + 1]; run++)
            {
                for (var i = first[runs[run].From]; i < first[runs[run].To + 1]; i++)
                {
                    var p = hot[listed[i]];
                    if (Passes(a, b, p)) found.Add((((long)(b.X - a.X) * (p.X - a.X)) + ((long)(b.Y - a.Y) * (p.Y - a.Y)), listed[i]));
                }
            }

            found.Sort();
            bends[s] = found.Count == 0 ? [] : [.. found.Select(f => f.Point)];
        }

        return bends;
    }

    /// <summary>Whether a segment passes the unit square around a lattice point that is not an end of it; the square's left and lower sides are its own.</summary>
    internal static bool Passes(LatticePoint a, LatticePoint b, LatticePoint p)
    {
        // Ends are in the middle of squares: a square beside the box of both is beside the segment.
        if (p.X < Math.Min(a.X, b.X) || p.X > Math.Max(a.X, b.X) || p.Y < Math.Min(a.Y, b.Y) || p.Y > Math.Max(a.Y, b.Y) || p == a || p == b) return false;
        long x = b.X - a.X, y = b.Y - a.Y;
        var off = 2 * Orient(a, b, p);
        var reach = Math.Abs(x) + Math.Abs(y);
        // A line that touches the square does so at a corner, and the lower left one alone belongs to it.
        return Math.Abs(off) < reach || (Math.Abs(off) == reach && off == x - y);
    }

    /// <summary>Where two segments cross between their ends, rounded, halves up.</summary>
    internal static bool TryCross(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d, out LatticePoint crossing)
    {
        crossing = default;
        if (Math.Max(a.X, b.X) < Math.Min(c.X, d.X) || Math.Max(c.X, d.X) < Math.Min(a.X, b.X)
            || Math.Max(a.Y, b.Y) < Math.Min(c.Y, d.Y) || Math.Max(c.Y, d.Y) < Math.Min(a.Y, b.Y)) return false;
        var (ofC, ofD) = (Orient(a, b, c), Orient(a, b, d));
        if (ofC == 0 || ofD == 0 || (ofC > 0) == (ofD > 0)) return false;
        var (ofA, ofB) = (Orient(c, d, a), Orient(c, d, b));
        if (ofA == 0 || ofB == 0 || (ofA > 0) == (ofB > 0)) return false;
        var whole = Math.Abs(ofA - ofB);
        crossing = new(a.X + Part(b.X - a.X, Math.Abs(ofA), whole), a.Y + Part(b.Y - a.Y, Math.Abs(ofA), whole));
        return true;
    }

    /// <summary>length · part / whole, rounded, halves up.</summary>
    internal static int Part(long length, long part, long whole)
    {
        var about = (double)length * part / whole;
        // Lengths are below 2²⁷ and the quotient rounds twice, so that only next to a half it may err.
        if (Math.Abs(about + 0.5 - Math.Round(about + 0.5)) > 1e-6) return (int)Math.Floor(about + 0.5);
        var (twice, divisor) = ((2 * (Int128)length * part) + whole, 2 * (Int128)whole);
        var down = twice / divisor;
        return (int)(twice < 0 && down * divisor != twice ? down - 1 : down);
    }

    private int Column(int x) => (x - low.X) / side;

    private int Row(int y) => (y - low.Y) / side;

    private int Square(LatticePoint p) => (Row(p.Y) * columns) + Column(p.X);

    /// <summary>The segments by squares: those of square i are listed from First[i] up to First[i + 1].</summary>
    private (int[] First, int[] Listed) Listed()
    {
        var first = new int[(columns * rows) + 1];
        foreach (var (from, to) in runs)
            for (var square = from; square <= to; square++) first[square + 1]++;
        for (var i = 1; i < first.Length; i++) first[i] += first[i - 1];
        var listed = new int[first[^1]];
        var next = first.ToArray();
        for (var s = 0; s < segments.Length; s++)
            for (var run = firstRun[s]; run < firstRun[s + 1]; run++)
                for (var square = runs[run].From; square <= runs[run].To; square++) listed[next[square]++] = s;
        return (first, listed);
    }

    /// <summary>The squares of every row that a segment passes, and those that hold points next to it.</summary>
    private void AddRuns(LatticePoint a, LatticePoint b)
    {
        if (a.Y > b.Y) (a, b) = (b, a);
        var slope = a.Y == b.Y ? 0 : (double)(b.X - a.X) / (b.Y - a.Y);
        for (var row = Row(a.Y); row <= Row(b.Y); row++)
        {
            // Two steps are more than a unit square and rounding need.
            var (bottom, top) = (low.Y + ((long)row * side) - 2, low.Y + ((row + 1L) * side) + 2);
            var (x0, x1) = a.Y == b.Y ? (a.X, b.X) : (At(bottom), At(top));
            runs.Add(((row * columns) + Column(Inside(Math.Min(x0, x1) - 2)), (row * columns) + Column(Inside(Math.Max(x0, x1) + 2))));
        }

        int At(long y) => a.X + (int)(slope * (Math.Clamp(y, a.Y, b.Y) - a.Y));

        int Inside(int x) => Math.Clamp(x, low.X, high.X);
    }
}
