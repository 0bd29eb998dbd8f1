namespace PatternKit.Sheets.Plans;

/// <summary>Where numbers stand beside a drawing, one below the other.</summary>
internal static class LeaderRows
{
    /// <summary>Each as near to the height of its place as the others let it.</summary>
    /// <param name="wanted">Heights of the places, downward.</param>
    /// <param name="low">The first may stand here.</param>
    /// <param name="high">The last may stand here.</param>
    /// <param name="distance">From one to the next at the least.</param>
    public static double[] Spread(IReadOnlyList<double> wanted, double low, double high, double distance)
    {
        var rows = new double[wanted.Count];
        for (var i = 0; i < rows.Length; i++) rows[i] = Math.Max(wanted[i], i == 0 ? low : rows[i - 1] + distance);
        for (var i = rows.Length - 1; i >= 0; i--) rows[i] = Math.Min(rows[i], i == rows.Length - 1 ? high : rows[i + 1] - distance);
        return rows;
    }
}
