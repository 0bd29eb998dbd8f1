using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Templates;

/// <summary>
/// A flat gauge of a dimension that matters, as cast, by its casting tolerance. For an outer size two gaps: the casting goes into the upper one and not into the lower.
/// For an inner size two tongues: the upper one goes into the casting, the lower does not.
/// </summary>
internal static class MeasureGauge
{
    /// <summary>Card longer than this bends before it gauges.</summary>
    public const double Longest_mm = 300;

    private const double Depth_mm = 15;
    private const double Middle_mm = 16;
    private const double Beside_mm = 10;
    private const double LeastWidth_mm = 84;
    private const double TextHeight_mm = 2.8;

    /// <summary>The gauge; null for a dimension that none can be made of: a step, one that was not met, one that is very small or long.</summary>
    public static Template? Make(MeasureResult measure, SheetNumbers numbers)
    {
        if (measure.IsOuter is not { } outer || measure.Least_mm is not { } least || measure.Most_mm is not { } most || least < 1 || most > Longest_mm) return null;
        var (upper, lower) = outer ? (most, least) : (least, most);
        var width = Math.Max(LeastWidth_mm, most + (2 * Beside_mm));
        const double height = Middle_mm + (2 * Depth_mm);
        var (top, bottom) = (Slot(upper, width, height - Depth_mm, height), Slot(lower, width, 0, Depth_mm));
        var plate = outer
            ? PlanRegion.Rectangle(default, new(width, height)).Difference(top).Difference(bottom)
            : PlanRegion.Rectangle(new(0, Depth_mm), new(width, height - Depth_mm)).Union(top).Union(bottom);
        return new($"gauge of “{measure.Name}”, as cast, {(outer ? "outer" : "inner")} size", [plate])
        {
            Texts =
            [
                new(new(width / 2, (height / 2) + 2), $"above: goes, {numbers.Length(upper)}", TextHeight_mm),
                new(new(width / 2, (height / 2) - 4), $"below: does not, {numbers.Length(lower)}", TextHeight_mm),
            ],
        };
    }

    private static PlanRegion Slot(double size, double width, double low, double high) => PlanRegion.Rectangle(new((width - size) / 2, low), new((width + size) / 2, high));
}
