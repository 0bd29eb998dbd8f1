namespace PatternKit.Patterns.Parting;

/// <summary>
/// Metal that a flat joint at height z would cost if every column had to reach it:
/// f(z) = ∫ (z − high)⁺ + (low − z)⁺. Convex and piecewise linear, so its least heights are a closed interval whose ends
/// are weighted medians of the ends of the columns, found exactly by sorting.
/// </summary>
internal sealed class FillCost
{
    private readonly (double Area, double Low, double High)[] columns;

    /// <summary>Takes the columns: area of plan, lower and upper end.</summary>
    internal FillCost(IEnumerable<(double Area, double Low, double High)> columns)
    {
        this.columns = [.. columns];
        Heights = [.. this.columns.SelectMany(c => new[] { c.Low, c.High }).Distinct().Order()];
    }

    /// <summary>All ends of columns, ascending.</summary>
    internal double[] Heights { get; }

    /// <summary>Lower end of the heights of least cost.</summary>
    internal double LeastLow => Heights.First(z => columns.Sum(c => c.High <= z ? c.Area : c.Low > z ? -c.Area : 0) >= -Slack);

    /// <summary>Upper end of the heights of least cost.</summary>
    internal double LeastHigh => Heights.Last(z => columns.Sum(c => c.High < z ? c.Area : c.Low >= z ? -c.Area : 0) <= Slack);

    /// <summary>
    /// Of the slope to the right of z, which is the area of the columns below less that of those above: areas are sums of products of
    /// lattice numbers, exact but for the last bits.
    /// </summary>
    private double Slack => 1e-12 * columns.Sum(c => c.Area);

    /// <summary>The cost at a height, mm³.</summary>
    internal double At(double z) => columns.Sum(c => c.Area * (Math.Max(z - c.High, 0) + Math.Max(c.Low - z, 0)));
}
