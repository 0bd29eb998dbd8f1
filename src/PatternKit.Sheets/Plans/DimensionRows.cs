using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Sheets.Paper;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>A size along one axis of a view.</summary>
/// <param name="From">Lower end, along the axis, mm of the view.</param>
/// <param name="To">Upper end.</param>
/// <param name="Text">The value.</param>
internal readonly record struct ViewDimension(double From, double To, string Text);

/// <summary>
/// Dimensions below or left of a view, each in a row of its own, the shorter ones nearer (ISO 129-1): filled arrows, extension lines, the value above its line,
/// read from below or from the right. A value that is longer than its line stands in two lines above it; one that is too long for that too stands beside it,
/// on the line continued beyond an arrow or level left of it.
/// </summary>
internal static class DimensionRows
{
    /// <summary>From one row to the next, paper mm.</summary>
    public const double Pitch_mm = 8;

    private const double TextHeight_mm = 3;

    // From one line of a value to the next.
    private const double LineStep_mm = 3.9;

    /// <summary>Most rows beside a view; what is more is in the table.</summary>
    public const int Most = 5;

    /// <summary>How wide a value is on any medium.</summary>
    public static Func<string, double> Measure(PaperFont font) => text => ViewDrawing.Wider * font.Width(font.Shown(text), TextHeight_mm);

    /// <summary>Those that are drawn, from the view outward.</summary>
    public static ImmutableArray<ViewDimension> Ordered(IEnumerable<ViewDimension> dimensions) =>
        [.. dimensions.Where(d => d.To > d.From).OrderBy(d => d.To - d.From).TakeLast(Most)];

    /// <summary>Below a view, along its width, clear of what stands there; a value that is too long for its line stands beside it.</summary>
    public static IEnumerable<XElement> Below(PlanSheet sheet, ImmutableArray<ViewDimension> rows, Func<string, double> measure, double clear = 0)
    {
        const double rightMost = DrawingFrame.Width_mm - DrawingFrame.Border_mm;
        var (drawn, y) = (new List<XElement>(), sheet.Box.Bottom + clear);
        foreach (var d in rows)
        {
            var lines = Lines(sheet.Scale.Ratio, d, measure);
            y += Pitch_mm + ((lines.Length - 1) * LineStep_mm);
            drawn.Add(Row(sheet.Paper(new(d.From, 0)).X, sheet.Paper(new(d.To, 0)).X, sheet.Box.Bottom, y, lines, measure, rightMost - sheet.Paper(new(d.To, 0)).X > measure(d.Text) + 5, false));
        }

        drawn.Reverse();
        return drawn;
    }

    /// <summary>What rows below a view take of the paper.</summary>
    public static double Height(double ratio, ImmutableArray<ViewDimension> rows, Func<string, double> measure) => rows.Sum(d => Pitch_mm + ((Lines(ratio, d, measure).Length - 1) * LineStep_mm));

    /// <summary>
    /// Left of a view, along its height, clear of what stands there; a value that is too long for its line is written level, left of it, or, raised, on the line continued above it.
    /// </summary>
    public static IEnumerable<XElement> Left(PlanSheet sheet, ImmutableArray<ViewDimension> rows, Func<string, double> measure, double clear = 0, bool isRaised = false)
    {
        var drawn = new List<XElement>();
        var x = sheet.Box.Left - clear;
        foreach (var d in rows)
        {
            var lines = Lines(sheet.Scale.Ratio, d, measure);
            var fits = Fits(sheet.Scale.Ratio, d, lines, measure);
            x -= Pitch_mm;
            var (upper, lower) = (sheet.Paper(new(0, d.To)).Y, sheet.Paper(new(0, d.From)).Y);
            drawn.Add(fits ? Row(upper, lower, sheet.Box.Left, x, lines, measure, true, true)
                : isRaised ? Row(upper, lower, sheet.Box.Left, x, Parted(d.Text, measure), measure, false, true)
                : Level(sheet.Box.Left, x, lower, upper, Parted(d.Text, measure), measure));
            x -= Beyond(sheet.Scale.Ratio, d, measure, isRaised);
        }

        // The outer ones first, so that their extension lines give way to values farther in.
        drawn.Reverse();
        return drawn;
    }

    /// <summary>What rows left of a view take of the paper.</summary>
    public static double Depth(double ratio, ImmutableArray<ViewDimension> rows, Func<string, double> measure, bool isRaised = false) => rows.Sum(d => Pitch_mm + Beyond(ratio, d, measure, isRaised));

    /// <summary>How far values of rows left of a view stand above it where they are raised; 0 where none does.</summary>
    /// <param name="ratio">Paper length over true length.</param>
    /// <param name="rows">What is told.</param>
    /// <param name="high_mm">Upper end of the view, mm.</param>
    /// <param name="measure">Width of a value.</param>
    public static double Rise(double ratio, ImmutableArray<ViewDimension> rows, double high_mm, Func<string, double> measure) =>
        rows.Where(d => !Fits(ratio, d, Lines(ratio, d, measure), measure)).Select(d => Wide(Parted(d.Text, measure), measure) + 5 - (ratio * (high_mm - d.To))).Append(0).Max();

    /// <summary>The largest scale of a plan that has one size left of it, and where the plan may begin.</summary>
    /// <param name="size">Of what is drawn, mm.</param>
    /// <param name="height">The size on its left.</param>
    /// <param name="least">Left of it at the least, paper mm; at the right as much.</param>
    /// <param name="clear">Of that, what other things take.</param>
    /// <param name="tallest">Of the plan on the paper.</param>
    /// <param name="measure">Width of a value.</param>
    public static (PaperScale Scale, double Left) Room(Vec2 size, ViewDimension height, double least, double clear, double tallest, Func<string, double> measure)
    {
        var scale = PaperScale.For(size.X, size.Y, DrawingFrame.Width_mm - (2 * least), tallest);
        var left = Math.Max(least, Taken());
        scale = PaperScale.For(size.X, size.Y, DrawingFrame.Width_mm - left - least, tallest);
        return (scale, Math.Max(Math.Max(least, Taken()), (DrawingFrame.Width_mm - (scale.Ratio * size.X)) / 2));

        // A row has its letters beyond its line.
        double Taken() => 3 + TextHeight_mm + clear + Depth(scale.Ratio, [height], measure);
    }

    /// <summary>A height left or right of a view, its value level beside the line; null for none.</summary>
    public static XElement? Beside(PlanSheet sheet, double low, double high, string text, bool isLeft, Func<string, double> measure)
    {
        var edge = isLeft ? sheet.Box.Left : sheet.Box.Right;
        return high > low ? Level(edge, edge + (isLeft ? -5 : 5), sheet.Paper(new(0, low)).Y, sheet.Paper(new(0, high)).Y, [text], measure) : null;
    }

    // A value in one line where that has room above its line, else in two where those have; one that has no room stands in one, beside.
    private static ImmutableArray<string> Lines(double ratio, ViewDimension d, Func<string, double> measure) =>
        !Fits(ratio, d, [d.Text], measure) && Parted(d.Text, measure) is var parted && Fits(ratio, d, parted, measure) ? parted : [d.Text];

    // In two lines before that bracket which leaves the longer of them shortest; one without a bracket stays as it is.
    private static ImmutableArray<string> Parted(string text, Func<string, double> measure)
    {
        ImmutableArray<string> best = [text];
        for (var at = text.IndexOf(" (", StringComparison.Ordinal); at >= 0; at = text.IndexOf(" (", at + 1, StringComparison.Ordinal))
        {
            ImmutableArray<string> parted = [text[..at], text[(at + 1)..]];
            if (Wide(parted, measure) < Wide(best, measure)) best = parted;
        }

        return best;
    }

    private static double Wide(ImmutableArray<string> lines, Func<string, double> measure) => lines.Max(measure);

    private static bool Fits(double ratio, ViewDimension d, ImmutableArray<string> lines, Func<string, double> measure) => Wide(lines, measure) + 1 <= ratio * (d.To - d.From);

    // What a height takes beyond the pitch: the second line above its line, or all of a level value.
    private static double Beyond(double ratio, ViewDimension d, Func<string, double> measure, bool isRaised = false)
    {
        var lines = Lines(ratio, d, measure);
        return Fits(ratio, d, lines, measure) ? (lines.Length - 1) * LineStep_mm
            : isRaised ? (Parted(d.Text, measure).Length - 1) * LineStep_mm
            : Wide(Parted(d.Text, measure), measure) + 2;
    }

    // A height with a level value beside its line.
    private static XElement Level(double edge, double x, double from, double to, ImmutableArray<string> lines, Func<string, double> measure)
    {
        // On shorter lines both arrows have no room inside and point at the ends from without.
        const double shortest = 7;
        var (outward, fits, wide, middle) = (Math.Sign(x - edge), from - to > shortest, Wide(lines, measure), (from + to) / 2);
        var below = (lines.Length - 1) * LineStep_mm / 2;
        return Shape("g", Set("class", "dimension"),
            PlanSheet.Line(edge + outward, from, x + (1.5 * outward), from, "thin"), PlanSheet.Line(edge + outward, to, x + (1.5 * outward), to, "thin"),
            PlanSheet.Line(x, fits ? from : from + 4, x, fits ? to : to - 4, "thin"),
            PlanSheet.Arrow(x, from, 0, fits ? 1 : -1), PlanSheet.Arrow(x, to, 0, fits ? -1 : 1),
            Behind(outward > 0 ? x + 2 : x - 2 - wide, middle - below - (TextHeight_mm / 2), wide, (2 * below) + TextHeight_mm),
            lines.Select((l, i) => PlanSheet.Letters(x + (2.5 * outward), middle - below + (i * LineStep_mm) + 1.1, l, outward < 0 ? "end" : "start", size: TextHeight_mm)));
    }

    // Extension lines of rows farther out, which are drawn before, give way to a value.
    private static XElement Behind(double x, double y, double width, double height) =>
        Shape("rect", Set("class", "paper"), Set("x", x), Set("y", y), Set("width", width), Set("height", height));

    // Along is x below a view and y beside it; across the other.
    private static XElement Row(double from, double to, double edge, double across, ImmutableArray<string> lines, Func<string, double> measure, bool isLongOn, bool isUpright)
    {
        var outward = Math.Sign(across - edge);
        var (wide, high) = (Wide(lines, measure), TextHeight_mm + ((lines.Length - 1) * LineStep_mm));
        var fits = wide + 1 <= to - from;
        var middle = (from + to) / 2;
        // A long one stands beside the arrows, on the side that has room.
        var (textFrom, textTo) = fits ? (middle - (wide / 2), middle + (wide / 2)) : isLongOn ? (to + 4, to + 4 + wide) : (from - 4 - wide, from - 4);
        XElement L(double a1, double c1, double a2, double c2) => isUpright ? PlanSheet.Line(c1, a1, c2, a2, "thin") : PlanSheet.Line(a1, c1, a2, c2, "thin");
        var at = (textFrom + textTo) / 2;
        return Shape("g", Set("class", "dimension"),
            L(from, edge + outward, from, across + (1.5 * outward)), L(to, edge + outward, to, across + (1.5 * outward)),
            L(Math.Min(from, textFrom), across, Math.Max(to, textTo), across),
            Arrow(from, across, fits ? -1 : 1, isUpright), Arrow(to, across, fits ? 1 : -1, isUpright),
            isUpright ? Behind(across - 0.6 - high, textFrom, high, wide) : Behind(textFrom, across - 0.6 - high, wide, high),
            lines.Select((l, i) => Letters(l, across - 1 - ((lines.Length - 1 - i) * LineStep_mm))));

        XElement Letters(string text, double foot) => isUpright ? PlanSheet.Letters(foot, at, text, "middle", -90, TextHeight_mm) : PlanSheet.Letters(at, foot, text, "middle", size: TextHeight_mm);
    }

    private static XElement Arrow(double along, double across, int direction, bool isUpright) =>
        isUpright ? PlanSheet.Arrow(across, along, 0, direction) : PlanSheet.Arrow(along, across, direction, 0);
}
