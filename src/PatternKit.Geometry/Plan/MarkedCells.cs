using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>A grid over the plan in which boxes were marked: tells quickly of most boxes that they meet none of those. A box that meets one is never missed.</summary>
internal sealed class MarkedCells
{
    private const int Across = 512;

    private readonly Vec2 low;
    private readonly Vec2 scale;

    /// <summary>How many cells left of and below a corner are marked.</summary>
    private readonly int[] sums = new int[(Across + 1) * (Across + 1)];

    /// <summary>Marks boxes.</summary>
    /// <param name="boxes">Lowest and highest corner of each.</param>
    public MarkedCells(IReadOnlyCollection<(Vec2 Low, Vec2 High)> boxes)
    {
        var (least, most) = (new Vec2(double.PositiveInfinity, double.PositiveInfinity), new Vec2(double.NegativeInfinity, double.NegativeInfinity));
        foreach (var (a, b) in boxes) (least, most) = (new(Math.Min(least.X, a.X), Math.Min(least.Y, a.Y)), new(Math.Max(most.X, b.X), Math.Max(most.Y, b.Y)));
        low = least;
        scale = new(Across / Math.Max(most.X - least.X, double.Epsilon), Across / Math.Max(most.Y - least.Y, double.Epsilon));
        var marked = new bool[Across * Across];
        foreach (var box in boxes)
        {
            var (x, y, endX, endY) = Cells(box.Low, box.High);
            for (; y < endY; y++) marked.AsSpan((y * Across) + x, endX - x).Fill(true);
        }

        for (var y = 0; y < Across; y++)
            for (var x = 0; x < Across; x++)
                sums[At(x + 1, y + 1)] = (marked[(y * Across) + x] ? 1 : 0) + sums[At(x, y + 1)] + sums[At(x + 1, y)] - sums[At(x, y)];
    }

    /// <summary>Whether a box may meet a marked one.</summary>
    public bool MayMeet(Vec2 boxLow, Vec2 boxHigh)
    {
        var (x, y, endX, endY) = Cells(boxLow, boxHigh);
        return x < endX && y < endY && sums[At(endX, endY)] - sums[At(x, endY)] - sums[At(endX, y)] + sums[At(x, y)] > 0;
    }

    private static int At(int x, int y) => (y * (Across + 1)) + x;

    private (int X, int Y, int EndX, int EndY) Cells(Vec2 boxLow, Vec2 boxHigh) =>
        (Cell(boxLow.X, low.X, scale.X), Cell(boxLow.Y, low.Y, scale.Y), Cell(boxHigh.X, low.X, scale.X) + 1, Cell(boxHigh.Y, low.Y, scale.Y) + 1);

    /// <summary>What lies beyond the grid counts as at its border.</summary>
    private static int Cell(double at, double low, double scale) => (int)Math.Clamp((at - low) * scale, 0, Across - 1);
}
