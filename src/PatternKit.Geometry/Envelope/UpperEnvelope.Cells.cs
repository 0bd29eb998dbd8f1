using System.Runtime.Intrinsics;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Envelope;

/// <content>
/// Squares of the plan with what may be the highest somewhere in them, listed when the first question falls in one: most have a primitive or two, so that
/// the tree is gone down once for a square and not once for every point of it. A list depends on nothing but the primitives, so which thread asked first shows
/// nowhere. Where many meet in a square, or there are so many primitives that few questions fall in one, the tree answers.
/// </content>
public sealed partial class UpperEnvelope<T>
{
    /// <summary>So many squares for each primitive, about.</summary>
    private const int SquaresEach = 4;

    private const int MostSquares = 1 << 14;

    /// <summary>With more primitives than this there are no squares.</summary>
    private const int MostListed = 20_000;

    /// <summary>A longer list is searched no faster than the tree.</summary>
    private const int LongestList = 16;

    /// <summary>Squares reach farther than the points that are looked for in them by this, mm, so that rounding at their borders does not count.</summary>
    private const double Beyond = 1e-6;

    private static readonly Candidate[] Crowded = [default];

    private static readonly Candidate[] None = [];

    private readonly Candidate[]?[] squares;
    private readonly Vec2 corner;
    private readonly double perSide;
    private readonly int columns;
    private readonly int rows;

    private readonly record struct Candidate(int Index, double Most);

    private static (Candidate[]?[] Squares, Vec2 Corner, double PerSide, int Columns, int Rows) Squares(Box3[] boxes)
    {
        if (boxes.Length is 0 or > MostListed) return ([], default, 0, 0, 0);
        var all = Box3.Empty;
        foreach (var box in boxes) all = all.With(box.Low).With(box.High);
        var (width, height) = (all.High.X - all.Low.X, all.High.Y - all.Low.Y);
        var count = Math.Min(MostSquares, SquaresEach * boxes.Length);
        // Walls fall outside the boxes of their edges, too.
        var side = Math.Max(Math.Sqrt(width * height / count), Math.Max(width, height) / count);
        if (!(side > 0 && double.IsFinite(side))) return ([], default, 0, 0, 0);
        var (columns, rows) = ((int)(width / side) + 3, (int)(height / side) + 3);
        return (new Candidate[]?[columns * rows], new(all.Low.X - side, all.Low.Y - side), 1 / side, columns, rows);
    }

    /// <summary>The list at a point; false where the tree has to be asked.</summary>
    private bool TryList(Vec2 p, out Candidate[] list)
    {
        list = Crowded;
        var (x, y) = ((p.X - corner.X) * perSide, (p.Y - corner.Y) * perSide);
        // Not for what is no number, either.
        if (!(x >= 0 && y >= 0 && x < columns && y < rows)) return false;
        ref var square = ref squares[((int)y * columns) + (int)x];
        list = Volatile.Read(ref square) ?? Listed((int)x, (int)y, ref square);
        return list != Crowded;
    }

    private Candidate[] Listed(int column, int row, ref Candidate[]? square)
    {
        var margin = new Vec2(Beyond, Beyond);
        var (low, high) = (corner + (1 / perSide * new Vec2(column, row)) - margin, corner + (1 / perSide * new Vec2(column + 1, row + 1)) + margin);
        var (lowX, lowY, highX, highY) = (Vector128.Create(low.X), Vector128.Create(low.Y), Vector128.Create(high.X), Vector128.Create(high.Y));
        var found = new List<Candidate>();
        var least = Background;
        Span<(int Node, double Bound)> stack = stackalloc (int, double)[Deepest];
        var top = 0;
        stack[top++] = (root, double.PositiveInfinity);
        while (top > 0)
        {
            var (index, bound) = stack[--top];
            if (bound < least) continue;
            if (index < 0)
            {
                var (first, count) = (~index >> LeafBits, ~index & ((1 << LeafBits) - 1));
                for (var i = first; i < first + count; i++)
                {
                    if (tops[i] < least) continue;
                    var (lowest, highest) = listed[i].Over(low, high);
                    if (highest < least || double.IsNegativeInfinity(highest)) continue;
                    found.Add(new(i, highest));
                    least = Math.Max(least, lowest);
                }

                continue;
            }

            ref readonly var pair = ref pairs[index];
            var bounds = Bounds(pair, lowX, lowY, highX, highY);
            var (higher, higherBound, lower, lowerBound) = HigherFirst(pair, bounds);
            if (lowerBound >= least) stack[top++] = (lower, lowerBound);
            if (higherBound >= least) stack[top++] = (higher, higherBound);
        }

        found.RemoveAll(c => c.Most < least);
        found.Sort((a, b) => a.Most != b.Most ? b.Most.CompareTo(a.Most) : a.Index.CompareTo(b.Index));
        Candidate[] list = found.Count > LongestList ? Crowded : found.Count == 0 ? None : [.. found];
        Volatile.Write(ref square, list);
        return list;
    }

    private EnvelopeSample HighestListed(Vec2 p, Candidate[] list, EnvelopeSample best, double enough)
    {
        foreach (var (i, most) in list)
        {
            if (most <= best.Value) break;
            if (!listed[i].TryEvaluate(p, out var value, out var gradient) || value <= best.Value) continue;
            best = new(value, gradient, order[i]);
            if (value >= enough) break;
        }

        return best;
    }
}
