using System.Globalization;

namespace PatternKit.Sheets.Plans;

/// <summary>A drawing scale of ISO 5455: paper length over true length.</summary>
internal readonly record struct PaperScale(double Ratio)
{
    // ISO 5455: 5:1, 2:1, 1:1, 1:2, 1:5 and their tenfolds.
    private static readonly double[] Steps = [10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001];

    /// <summary>The largest scale at which a drawing fits the paper; smaller than the smallest, that.</summary>
    public static PaperScale For(double width_mm, double height_mm, double paperWidth_mm, double paperHeight_mm)
    {
        foreach (var step in Steps)
            if (step * width_mm <= paperWidth_mm && step * height_mm <= paperHeight_mm) return new(step);
        return new(Steps[^1]);
    }

    /// <summary>The next smaller scale; of the smallest, that.</summary>
    public PaperScale Smaller => Steps.Where(Below).Select(s => new PaperScale(s)).FirstOrDefault(this);

    /// <summary>A round length of which about <paramref name="longest_mm"/> of paper is filled at most: 1, 2 or 5 times a power of ten.</summary>
    public static double RoundLength(double longest_mm)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(longest_mm)));
        var share = longest_mm / power;
        return power * (share >= 5 ? 5 : share >= 2 ? 2 : 1);
    }

    /// <summary>"1:2".</summary>
    public override string ToString() => Ratio >= 1
        ? string.Create(CultureInfo.InvariantCulture, $"{Ratio:0.#}:1")
        : string.Create(CultureInfo.InvariantCulture, $"1:{1 / Ratio:0.#}");

    private bool Below(double step) => step < Ratio;
}
