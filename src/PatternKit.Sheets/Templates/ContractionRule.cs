using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Sheets.Texts;
using static System.FormattableString;

namespace PatternKit.Sheets.Templates;

/// <summary>
/// A rule whose divisions are longer than true by the contraction of the metal: what it reads on the pattern is the size of the cold casting. Its left edge has
/// the contraction scale, its right edge the true one, so that neither is taken for the other.
/// </summary>
internal static class ContractionRule
{
    /// <summary>What the rule reads over its whole length; both page formats take it in one piece.</summary>
    public static double Reads_mm(SheetNumbers numbers) => numbers.Inches ? 8 * 25.4 : 200;

    private const double Width_mm = 34;
    private const double End_mm = 6;
    private const double TextHeight_mm = 2.5;

    public static Template Make(double scale, SheetNumbers numbers)
    {
        var length = Reads_mm(numbers);
        var high = Math.Max(scale, 1) * length;
        var lines = ImmutableArray.CreateBuilder<(Vec2, Vec2)>();
        var texts = ImmutableArray.CreateBuilder<TemplateText>();
        foreach (var (factor, x, inward) in new[] { (scale, 0.0, 1.0), (1.0, Width_mm, -1.0) })
        {
            // Sixteenths of an inch, or millimetres.
            var (step, mark, half) = numbers.Inches ? (25.4 / 16, 16, 8) : (1.0, 10, 5);
            for (var i = 0; i <= (int)Math.Round(length / step); i++)
            {
                var y = factor * i * step;
                var tick = i % mark == 0 ? 7 : i % half == 0 ? 5 : 3;
                lines.Add((new(x, y), new(x + (inward * tick), y)));
                if (i % mark == 0) texts.Add(new(new(x + (inward * 10), y - (0.36 * TextHeight_mm)), Invariant($"{(numbers.Inches ? i / 16 : i)}"), TextHeight_mm));
            }
        }

        return new($"contraction rule: left edge × {SheetNumbers.Fixed(scale, 5)}, right edge true {(numbers.Inches ? "inches" : "millimetres")}",
            [PlanRegion.Rectangle(new(0, -End_mm), new(Width_mm, high + End_mm))])
        {
            Engrave = lines.ToImmutable(),
            Texts = texts.ToImmutable(),
        };
    }
}
