using System.Collections.Immutable;

namespace PatternKit.Geometry.Silhouette;

/// <summary>
/// The shortest line through a strip: heights along a closed way, each between two bounds, pulled taut. It has the least length, the least sum of rises and
/// the least of every other convex measure of slope at once, and is level where a level line fits.
/// </summary>
/// <remarks>
/// Between fixed ends it is found by the funnel of Lee and Preparata (1984), gate by gate. A taut closed line that is not level touches the lower bound where that
/// is highest: were it higher anywhere, cutting it off there would shorten it. So it can be cut open at that place.
/// </remarks>
public static class TautString
{
    /// <summary>The heights that a level line may have; empty, low above high, where none fits.</summary>
    public static (double Low, double High) Level(IEnumerable<(double Low, double High)> bounds)
    {
        var (low, high) = (double.NegativeInfinity, double.PositiveInfinity);
        foreach (var b in bounds) (low, high) = (Math.Max(low, b.Low), Math.Min(high, b.High));
        return (low, high);
    }

    /// <summary>The taut line through the bounds.</summary>
    /// <param name="at">Place of each along the way, ascending.</param>
    /// <param name="length">Of the whole way, from the first place round to it again.</param>
    /// <param name="bounds">Low and high; none has low above high.</param>
    /// <param name="preferred">Of level lines, the one nearest to this height.</param>
    /// <returns>A height for each place.</returns>
    /// <exception cref="ArgumentException">No places, or bounds that leave no room.</exception>
    public static ImmutableArray<double> Closed(IReadOnlyList<double> at, double length, IReadOnlyList<(double Low, double High)> bounds, double preferred)
    {
        if (at.Count == 0 || at.Count != bounds.Count || bounds.Any(b => !(b.Low <= b.High))) throw new ArgumentException("A strip needs places with bounds that leave room.", nameof(bounds));
        var level = Level(bounds);
        var heights = new double[at.Count];
        if (level.Low <= level.High)
        {
            Array.Fill(heights, Math.Clamp(preferred, level.Low, level.High));
            return [.. heights];
        }

        var (n, first) = (at.Count, 0);
        for (var i = 1; i < n; i++)
            if (bounds[i].Low > bounds[first].Low) first = i;
        // From the place cut open once round to it again, where both ends are fixed.
        var (apex, height) = (0, level.Low);
        heights[first] = height;
        while (apex < n)
        {
            var (least, most, lower, upper) = (double.NegativeInfinity, double.PositiveInfinity, apex, apex);
            var (next, reached) = (n, level.Low);
            for (var j = apex + 1; j <= n; j++)
            {
                var (low, high) = j == n ? (level.Low, level.Low) : bounds[(first + j) % n];
                var run = Place(j) - Place(apex);
                var (toLow, toHigh) = ((low - height) / run, (high - height) / run);
                if (toLow > most)
                {
                    (next, reached) = (upper, bounds[(first + upper) % n].High);
                    break;
                }

                if (toHigh < least)
                {
                    (next, reached) = (lower, bounds[(first + lower) % n].Low);
                    break;
                }

                if (toLow >= least) (least, lower) = (toLow, j);
                if (toHigh <= most) (most, upper) = (toHigh, j);
            }

            for (var j = apex + 1; j <= next; j++)
                heights[(first + j) % n] = j == next ? reached : height + ((reached - height) * (Place(j) - Place(apex)) / (Place(next) - Place(apex)));
            (apex, height) = (next, reached);
        }

        return [.. heights];

        double Place(int j) => first + j < n ? at[first + j] - at[first] : at[first + j - n] + length - at[first];
    }
}
