namespace PatternKit.Geometry.Columns;

/// <summary>
/// The space that columns lack to reach one height: f(z) = ∫ (z − high)⁺ + (low − z)⁺ over the plan. Convex and piecewise linear with breaks
/// at the ends of the columns, so it is least over a closed interval between breaks, which sorting finds exactly. Immutable.
/// </summary>
public sealed class ReachCost
{
    private readonly Ends lows;
    private readonly Ends highs;

    /// <summary>Takes the columns: area of plan, mm², lower and upper end, mm.</summary>
    /// <exception cref="ArgumentException">There is no column.</exception>
    public ReachCost(IReadOnlyCollection<(double Area, double Low, double High)> columns)
    {
        if (columns.Count == 0) throw new ArgumentException("Without columns no height can be chosen.", nameof(columns));
        lows = new([.. columns.Select(c => c.Low)], [.. columns.Select(c => c.Area)]);
        highs = new([.. columns.Select(c => c.High)], [.. columns.Select(c => c.Area)]);
        (LeastFrom, LeastTo) = (FirstOver(-Slack), LastUnder(Slack));
        // Where the slope never vanishes the two are one break, from either side.
        Least_mm3 = At(LeastFrom);
    }

    /// <summary>Lower end of the heights of least cost, mm: the first from which f falls no more.</summary>
    public double LeastFrom { get; }

    /// <summary>Upper end of the heights of least cost, mm: the last up to which f does not rise.</summary>
    public double LeastTo { get; }

    /// <summary>The least cost, mm³.</summary>
    public double Least_mm3 { get; }

    /// <summary>Of slopes, which are sums of areas and so right but for their last bits.</summary>
    private double Slack => 1e-12 * highs.Area;

    /// <summary>
    /// Where to put the plane: at the end of the body at which least is added, if that is hardly more than at best, since the body then has a flat side to lie on;
    /// else in the middle of the best heights.
    /// </summary>
    /// <param name="range">The ends of the body.</param>
    /// <param name="more_mm3">What counts as hardly more.</param>
    /// <param name="same_mm3">Ends whose costs differ by no more are equal.</param>
    /// <param name="highOfEqual">Whether of equal ends the high one is better.</param>
    public double Plane(ColumnInterval range, double more_mm3, double same_mm3, bool highOfEqual)
    {
        var (low, high) = (At(range.Low), At(range.High));
        if (Math.Min(low, high) > Least_mm3 + more_mm3) return (LeastFrom + LeastTo) / 2;
        return Math.Abs(high - low) <= same_mm3 ? (highOfEqual ? range.High : range.Low) : low < high ? range.Low : range.High;
    }

    /// <summary>f(z), mm³. Logarithmic in the number of columns.</summary>
    public double At(double z) => highs.BelowBy(z) + lows.AboveBy(z);

    private double FirstOver(double slope)
    {
        // The slope right of z is the area of the columns with high ≤ z less that of those with low > z.
        bool Rises(double z) => highs.AreaTo(z) - (lows.Area - lows.AreaTo(z)) >= slope;
        return Math.Min(lows.First(Rises), highs.First(Rises));
    }

    private double LastUnder(double slope)
    {
        bool Rises(double z) => highs.AreaBefore(z) - (lows.Area - lows.AreaBefore(z)) > slope;
        return Math.Max(lows.LastNot(Rises), highs.LastNot(Rises));
    }

    /// <summary>Ends on one side, ascending, with the areas and moments of those before each.</summary>
    private sealed class Ends
    {
        private readonly double[] heights;
        private readonly double[] areas;
        private readonly double[] moments;
        private readonly double middle;

        internal Ends(double[] heights, double[] weights)
        {
            Array.Sort(heights, weights);
            this.heights = heights;
            (areas, moments) = (new double[heights.Length + 1], new double[heights.Length + 1]);
            // Moments about the middle keep their digits for bodies far from the origin.
            middle = heights[heights.Length / 2];
            for (var i = 0; i < heights.Length; i++)
            {
                areas[i + 1] = areas[i] + weights[i];
                moments[i + 1] = moments[i] + (weights[i] * (heights[i] - middle));
            }
        }

        internal double Area => areas[^1];

        /// <summary>Area of those at most this high.</summary>
        internal double AreaTo(double z) => areas[Find(h => h > z)];

        internal double AreaBefore(double z) => areas[Find(h => h >= z)];

        internal double BelowBy(double z)
        {
            var n = Find(h => h > z);
            return Math.Max(0, (areas[n] * (z - middle)) - moments[n]);
        }

        internal double AboveBy(double z)
        {
            var n = Find(h => h > z);
            return Math.Max(0, moments[^1] - moments[n] - ((Area - areas[n]) * (z - middle)));
        }

        /// <summary>The first height from which a test holds on; infinite when it never does.</summary>
        internal double First(Func<double, bool> holds) => Find(holds) is var i && i < heights.Length ? heights[i] : double.PositiveInfinity;

        /// <summary>The last height up to which a test does not hold yet; negative infinity when it always does.</summary>
        internal double LastNot(Func<double, bool> holds) => Find(holds) is var i && i > 0 ? heights[i - 1] : double.NegativeInfinity;

        /// <summary>The number of the first height from which a test holds on.</summary>
        private int Find(Func<double, bool> holds)
        {
            var (from, to) = (0, heights.Length);
            while (from < to)
            {
                var mid = (from + to) >>> 1;
                if (holds(heights[mid])) to = mid;
                else from = mid + 1;
            }

            return from;
        }
    }
}
