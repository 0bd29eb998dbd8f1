using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>Contraction and spread fitted to castings that a shop measured.</summary>
/// <param name="Fraction">Of the casting: pattern = casting × (1 + s).</param>
/// <param name="Deviation_mm">Standard deviation of the castings about the fit.</param>
/// <param name="Count">How many castings.</param>
/// <param name="Smallest_mm">The smallest of them.</param>
/// <param name="Largest_mm">The largest.</param>
public sealed record ContractionFit(double Fraction, double Deviation_mm, int Count, double Smallest_mm, double Largest_mm)
{
    /// <summary>Where fitted values come from.</summary>
    public const string Source = "castings measured in this shop ([[cast]] of shop.toml)";

    /// <summary>"7 measured castings of 40 to 150 mm".</summary>
    public string Text => $"{Shown.Number(Count)} measured castings of {Shown.Number(Smallest_mm)} to {Shown.Number(Largest_mm)} mm";

    /// <summary>
    /// Least squares of one unknown (Gauss 1809): casting = k · cavity, k = Σ p c / Σ p², s = 1/k − 1; the deviation is √(Σ r² / (n − 1)).
    /// </summary>
    /// <param name="castings">Two or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">There are fewer.</exception>
    public static ContractionFit Of(ImmutableArray<MeasuredCasting> castings)
    {
        Checked.Within(castings.Length, 2, 1e6, nameof(castings));
        var k = castings.Sum(c => c.Cavity_mm * c.Casting_mm) / castings.Sum(c => c.Cavity_mm * c.Cavity_mm);
        var squares = castings.Sum(c => Math.Pow(c.Casting_mm - (k * c.Cavity_mm), 2));
        return new((1 / k) - 1, Math.Sqrt(squares / (castings.Length - 1)), castings.Length, castings.Min(c => c.Casting_mm), castings.Max(c => c.Casting_mm));
    }
}
