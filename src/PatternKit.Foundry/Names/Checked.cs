namespace PatternKit.Foundry;

/// <summary>Argument checks with one wording.</summary>
internal static class Checked
{
    public static void Positive(double value, string name)
    {
        if (!(value > 0) || double.IsInfinity(value))
            throw new ArgumentOutOfRangeException(name, value, "must be a positive, finite number");
    }

    public static void Within(double value, double low, double high, string name)
    {
        if (!(value >= low && value <= high))
            throw new ArgumentOutOfRangeException(name, value, $"must lie from {Shown.Number(low)} to {Shown.Number(high)}");
    }
}
