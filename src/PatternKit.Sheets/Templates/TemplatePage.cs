using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Templates;

/// <summary>The frame of a page of templates: its head, the room for templates, and at its foot a line of known length to measure.</summary>
internal sealed class TemplatePage(PaperFormat format, string title, SheetNumbers numbers, PaperFont font)
{
    /// <summary>Length of the line at the foot.</summary>
    public const double CheckLine_mm = 150;

    /// <summary>Side of the square on the first page.</summary>
    public const double CheckSquare_mm = 100;

    /// <summary>What printers leave white, and a little more.</summary>
    public const double Margin_mm = 10;

    /// <summary>Below the head.</summary>
    public const double Top_mm = 22;

    private const double Foot_mm = 28;
    private const double TextHeight_mm = 3;

    // Larger and not bolder, so that the file has one face only.
    private const double HeadHeight_mm = 4;

    /// <summary>Room for templates.</summary>
    public Vec2 Room_mm => new(format.Width_mm - (2 * Margin_mm), format.Height_mm - Top_mm - Foot_mm);

    /// <summary>A page as a drawing at full size.</summary>
    public XElement Make(string head, int number, int count, params object?[] content)
    {
        var foot = format.Height_mm - 14;
        var right = Margin_mm + CheckLine_mm;
        var pages = $"{SheetNumbers.Whole(number)} of {SheetNumbers.Whole(count)}";
        var beside = format.Width_mm - (2 * Margin_mm) - font.Width(pages, TextHeight_mm) - 5;
        return Shape("svg", Set("viewBox", $"0 0 {Number(format.Width_mm)} {Number(format.Height_mm)}"),
            Letters(Margin_mm, 14, font.Cut(font.Shown(title), TextHeight_mm, beside)),
            PlanSheet.Letters(format.Width_mm - Margin_mm, 14, pages, "end", size: TextHeight_mm),
            Letters(Margin_mm, 19.2, font.Cut(font.Shown(head), HeadHeight_mm, format.Width_mm - (2 * Margin_mm)), HeadHeight_mm),
            content,
            PlanSheet.Line(Margin_mm, foot, right, foot, "register"),
            PlanSheet.Line(Margin_mm, foot - 3, Margin_mm, foot + 1.5, "register"),
            PlanSheet.Line(right, foot - 3, right, foot + 1.5, "register"),
            Letters(Margin_mm, foot + 5, $"Full size: this line is {numbers.ShortLength(CheckLine_mm)} long. Measure it before you cut."));
    }

    /// <summary>A paragraph, line by line, downward from a height; gives the height below it too.</summary>
    public (IEnumerable<XElement> Lines, double Below_mm) Paragraph(string text, double y, double size_mm = TextHeight_mm)
    {
        var lines = LineBreaks.Of(font.Shown(text), format.Width_mm - (2 * Margin_mm), t => font.Width(t, size_mm));
        return (lines.Select((l, i) => Letters(Margin_mm, y + (1.4 * size_mm * (i + 1)), l, size_mm)), y + (1.4 * size_mm * lines.Length) + size_mm);
    }

    private static XElement Letters(double x, double y, string text, double size_mm = TextHeight_mm) =>
        Shape("text", Set("x", x), Set("y", y), Set("font-size", size_mm), text);
}
