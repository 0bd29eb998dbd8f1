using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using static System.FormattableString;

namespace PatternKit.Patterns.Parts;

/// <summary>Letters whose strokes, or whose enclosed counters, are too narrow for the sand: the finest of each is told.</summary>
internal static class FineLetters
{
    /// <summary>
    /// A disc as wide as a stroke leaves of it, when rolled inside, all but the corners: at worst, in a square dot, 1 − π/4 are lost.
    /// </summary>
    private const double Kept = 0.75;

    /// <summary>The findings of all features of letters.</summary>
    internal static IEnumerable<Finding> Of(Job job, Sand sand, LetterTable table)
    {
        var limits = table.For(sand.Bond);
        foreach (var feature in job.Features)
        {
            if (feature.Text is not { } text) continue;
            var region = PlanRegion.EvenOdd(feature.Loops, 0.01);
            if (Told(feature, text, "strokes", region, limits.Stroke_mm) is { } stroke) yield return stroke;
            if (Told(feature, text, "counters", region.Filled().Difference(region), limits.Counter_mm) is { } counter) yield return counter;
        }
    }

    /// <summary>Width of the widest disc that, rolled inside a region, leaves next to all of it; at most <paramref name="most_mm"/>.</summary>
    internal static double Width(PlanRegion region, double most_mm)
    {
        bool Fits(double width) => region.Offset(-width / 2, width / 100).Offset(width / 2, width / 100).Area >= Kept * region.Area;
        if (Fits(most_mm)) return most_mm;
        var (fits, fails) = (0.0, most_mm);
        for (var i = 0; i < 12; i++)
        {
            var middle = (fits + fails) / 2;
            if (Fits(middle)) fits = middle;
            else fails = middle;
        }

        return fits;
    }

    private static Finding? Told(Feature feature, Lettering text, string what, PlanRegion region, Quoted limit)
    {
        var finest = region.Pieces().Select(r => (Width: Width(r, limit.Value), At: r.InnerPoint)).OrderBy(f => f.Width).FirstOrDefault((limit.Value, default));
        if (finest.Width >= limit.Value) return null;
        var z = text.Side == TextSide.Top ? feature.High_mm : feature.Low_mm;
        return new(
            "fine-letter", Severity.Warn,
            Invariant($"{feature.Name} ({feature.Where}): the {what} of \"{text.Text}\" are {finest.Width:0.##} mm wide at the finest; the sand wants {limit.Value:0.##} mm."),
            new(finest.At.X, finest.At.Y, z), finest.Width, limit.Value, limit.From.Text,
            Invariant($"Write it larger: about size = {Math.Ceiling(10 * text.Size_mm * limit.Value / finest.Width) / 10:0.#} mm or more."), "mm");
    }
}
