using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Plans;

/// <summary>Sections side by side below the views of a drawing: hatched, with their letters, names, areas, widths and heights.</summary>
internal static class SectionRow
{
    private const double LetterHeight_mm = 3.5, TextHeight_mm = 3, Head_mm = 14;
    private const double Left_mm = 4, Widest_mm = 30;

    // By how many rows there are: all stand on one page.
    private static readonly double[] Tallest_mm = [26, 20, 13];

    /// <summary>Draws them at one scale of their own, which each is told.</summary>
    /// <param name="sections">What is drawn.</param>
    /// <param name="numbers">Of the sheet.</param>
    /// <param name="letter">Of a section by its number from 0.</param>
    /// <param name="top">Upper edge, paper mm.</param>
    /// <param name="font">To measure by.</param>
    /// <returns>The drawing and where it ends.</returns>
    public static (IEnumerable<XElement> Drawn, double Bottom) Draw(ImmutableArray<DrawnSection> sections, SheetNumbers numbers, Func<int, string> letter, double top, PaperFont font)
    {
        if (sections.IsEmpty) return ([], top);
        // Values in inches have millimetres beside, which takes more room.
        var columns = numbers.Inches ? 2 : 3;
        var width = (DrawingFrame.Width_mm - (2 * DrawingFrame.Border_mm)) / columns;
        var scale = PaperScale.For(sections.Max(s => s.Section.Size.X), sections.Max(s => s.Section.Size.Y), Widest_mm, Tallest_mm[Math.Min((sections.Length - 1) / columns, Tallest_mm.Length - 1)]);
        var measured = DimensionRows.Measure(font);
        var drawn = new List<XElement>();
        foreach (var (row, number) in sections.Chunk(columns).Select((r, i) => (r, i)))
        {
            var end = top;
            for (var i = 0; i < row.Length; i++) end = Math.Max(end, One(row[i], letter((number * columns) + i), DrawingFrame.Border_mm + 2 + (i * width)));
            top = end + 4;
        }

        return (drawn, top - 4);

        double One(DrawnSection s, string name, double left)
        {
            var (section, right) = (s.Section, left + width - 4);
            var sheet = new PlanSheet(section.Low, section.High, scale, left + Left_mm, top + Head_mm);
            string Fitting(string text, double size, double room) => font.Cut(font.Shown(text), size, room / ViewDrawing.Wider);
            drawn.Add(PlanSheet.Letters(left, top + 4, $"{name}–{name}", size: LetterHeight_mm));
            drawn.Add(PlanSheet.Letters(left + 12, top + 4, Fitting(section.Name, TextHeight_mm, right - left - 12), size: TextHeight_mm));
            drawn.Add(PlanSheet.Letters(left + 12, top + 8.5, $"{s.Area}, {scale}", size: TextHeight_mm));
            var rings = section.Rings.Select(r => r.AsEnumerable());
            drawn.Add(sheet.Rings(rings, "cope-cut"));
            drawn.AddRange(Hatching.Lines(sheet, rings, true));
            ImmutableArray<ViewDimension> across = [new(section.Low.X, section.High.X, (section.IsRound ? "⌀\u00A0" : "") + numbers.Length(section.Size.X))];
            drawn.AddRange(DimensionRows.Below(sheet, across, measured));
            if (!section.IsRound && DimensionRows.Beside(sheet, section.Low.Y, section.High.Y, numbers.Length(section.Size.Y), false, measured) is { } height) drawn.Add(height);
            return sheet.Box.Bottom + DimensionRows.Height(scale.Ratio, across, measured) + 2;
        }
    }
}
