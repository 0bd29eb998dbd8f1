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
        var area = this.columns.Sum(c => c.Area);
        // Slope to the right of z: area of the columns below less area of those above. Areas are sums of
        // products of lattice numbers, exact but for the last bits.
        var slack = 1e-12 * area;
        LeastLow = Heights.First(z => this.columns.Sum(c => c.High <= z ? c.Area : c.Low > z ? -c.Area : 0) >= -slack);
        LeastHigh = Heights.Last(z => this.columns.Sum(c => c.High < z ? c.Area : c.Low >= z ? -c.Area : 0) <= slack);
    }

    /// <summary>All ends of columns, ascending.</summary>
    internal double[] Heights { get; }

    /// <summary>Lower end of the heights of least cost.</summary>
    internal double LeastLow { get; }

    /// <summary>Upper end of the heights of least cost.</summary>
    internal double LeastHigh { get; }

    /// <summary>The cost at a height, mm³.</summary>
    internal double At(double z) => columns.Sum(c => c.Area * (Math.Max(z - c.High, 0) + Math.Max(c.Low - z, 0)));
}
