using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>What a drawing is called.</summary>
/// <param name="Id">In the sheet and of its file: "general".</param>
/// <param name="Title">In the title block: "General drawing".</param>
/// <param name="Words">What is seen, in a sentence.</param>
internal sealed record DrawingName(string Id, string Title, string Words)
{
    /// <summary>What a reader who does not see the drawing is told besides; null for nothing.</summary>
    public string? Description { get; init; }
}

/// <summary>A drawing as it stands on the sheet: its frame, the scale bar, a note, the title block.</summary>
internal static class DrawingFrame
{
    /// <summary>Width of every drawing on the paper.</summary>
    public const double Width_mm = 180;

    /// <summary>From the frame to what is drawn, at the least.</summary>
    public const double Border_mm = 4;

    /// <summary>What frame and title block take of the height.</summary>
    public const double Foot_mm = 14 + TitleBlock.Height_mm;

    private const double Line_mm = 1;
    private const double ScaleBar_mm = 40;
    private const double TextHeight_mm = 3;

    /// <summary>Draws it.</summary>
    /// <param name="kit">For the title block.</param>
    /// <param name="numbers">For the scale bar.</param>
    /// <param name="name">Of the drawing.</param>
    /// <param name="scale">At full size.</param>
    /// <param name="bottom">Where the content ends, paper mm from the upper edge.</param>
    /// <param name="note">What sizes they are; empty for nothing.</param>
    /// <param name="content">Paper mm from the upper left corner.</param>
    public static XElement Draw(Kit kit, SheetNumbers numbers, DrawingName name, PaperScale scale, double bottom, string note, params object?[] content)
    {
        using var font = new PaperFont();
        var height = bottom + Foot_mm;
        var (title, description) = ($"{name.Id}-title", name.Description is null ? null : $"{name.Id}-desc");
        return Shape("svg",
            Set("viewBox", $"0 0 {Number(Width_mm)} {Number(height)}"), Set("width", $"{Number(Width_mm)}mm"), Set("height", $"{Number(height)}mm"),
            Set("role", "img"), Set("aria-labelledby", description is null ? title : $"{title} {description}"), Set("class", "drawing"),
            Shape("title", Set("id", title), name.Words),
            description is null ? null : Shape("desc", Set("id", description), name.Description),
            Shape("rect", Set("class", "frame"), Set("x", Line_mm), Set("y", Line_mm), Set("width", Width_mm - (2 * Line_mm)), Set("height", height - (2 * Line_mm))),
            content,
            ScaleBar.Draw(Border_mm + 2, bottom + 9, ScaleBar_mm, scale.Ratio, TextHeight_mm, numbers),
            note.Length == 0 ? null : PlanSheet.Letters(Width_mm - Border_mm - 2, bottom + 9, note, "end", size: 2.5),
            TitleBlock.Draw(kit, name.Title, scale, Line_mm, height - TitleBlock.Height_mm - Line_mm, Width_mm - (2 * Line_mm), font));
    }
}
