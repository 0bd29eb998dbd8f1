using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>A size along one axis of a view.</summary>
/// <param name="From">Lower end, along the axis, mm of the view.</param>
/// <param name="To">Upper end.</param>
/// <param name="Text">The value.</param>
internal readonly record struct ViewDimension(double From, double To, string Text);

/// <summary>
/// Dimensions below or left of a view, each in a row of its own, the shorter ones nearer (ISO 129-1): filled arrows, extension lines, the value above its line,
/// read from below or from the right. Where a value is longer than its line, the line is drawn on.
/// </summary>
internal static class DimensionRows
{
    /// <summary>From one row to the next, paper mm.</summary>
    public const double Pitch_mm = 8;

    private const double TextHeight_mm = 3;

    /// <summary>Most rows beside a view; what is more is in the table.</summary>
    public const int Most = 5;

    /// <summary>Those that are drawn, from the view outward.</summary>
    public static ImmutableArray<ViewDimension> Ordered(IEnumerable<ViewDimension> dimensions) =>
        [.. dimensions.Where(d => d.To > d.From).OrderBy(d => d.To - d.From).TakeLast(Most)];

    /// <summary>Below a view, along its width.</summary>
    public static IEnumerable<XElement> Below(PlanSheet sheet, ImmutableArray<ViewDimension> rows, Func<string, double> measure, double rightMost) =>
        rows.Select((d, i) => Row(sheet.Paper(new(d.From, 0)).X, sheet.Paper(new(d.To, 0)).X, sheet.Box.Bottom, sheet.Box.Bottom + ((i + 1) * Pitch_mm), d.Text, measure, rightMost - sheet.Paper(new(d.To, 0)).X > measure(d.Text) + 5, false));

    /// <summary>How far the longest value reaches beyond a view, as it does where it is longer than its line.</summary>
    /// <param name="ratio">Scale.</param>
    /// <param name="rows">Beside the view.</param>
    /// <param name="measure">Width of a value.</param>
    public static double Beyond(double ratio, ImmutableArray<ViewDimension> rows, Func<string, double> measure) =>
        rows.Where(d => measure(d.Text) + 1 > ratio * (d.To - d.From)).Select(d => measure(d.Text) + 6).DefaultIfEmpty(0).Max();

    /// <summary>Left of a view, along its height; long values go down or up beyond it.</summary>
    public static IEnumerable<XElement> Left(PlanSheet sheet, ImmutableArray<ViewDimension> rows, Func<string, double> measure, bool isLongDown) =>
        rows.Select((d, i) => Row(sheet.Paper(new(0, d.To)).Y, sheet.Paper(new(0, d.From)).Y, sheet.Box.Left, sheet.Box.Left - ((i + 1) * Pitch_mm), d.Text, measure, isLongDown, true));

    // Along is x below a view and y beside it; across the other.
    private static XElement Row(double from, double to, double edge, double across, string text, Func<string, double> measure, bool isLongOn, bool isUpright)
    {
        var outward = Math.Sign(across - edge);
        var wide = measure(text);
        var fits = wide + 1 <= to - from;
        var middle = (from + to) / 2;
        var (textFrom, textTo) = (middle - (wide / 2), middle + (wide / 2));
        if (!fits)
        {
            // Beside the arrows, on the side that has room.
            (textFrom, textTo) = isLongOn ? (to + 4, to + 4 + wide) : (from - 4 - wide, from - 4);
        }

        XElement L(double a1, double c1, double a2, double c2) => isUpright ? PlanSheet.Line(c1, a1, c2, a2, "thin") : PlanSheet.Line(a1, c1, a2, c2, "thin");
        var at = (textFrom + textTo) / 2;
        return Shape("g", Set("class", "dimension"),
            L(from, edge + outward, from, across + (1.5 * outward)), L(to, edge + outward, to, across + (1.5 * outward)),
            L(Math.Min(from, textFrom), across, Math.Max(to, textTo), across),
            Arrow(from, across, fits ? -1 : 1, isUpright), Arrow(to, across, fits ? 1 : -1, isUpright),
            isUpright ? PlanSheet.Letters(across - 1, at, text, "middle", -90, TextHeight_mm) : PlanSheet.Letters(at, across - 1, text, "middle", size: TextHeight_mm));
    }

    private static XElement Arrow(double along, double across, int direction, bool isUpright) =>
        isUpright ? PlanSheet.Arrow(across, along, 0, direction) : PlanSheet.Arrow(along, across, direction, 0);
}
