using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using SkiaSharp;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Templates;

/// <summary>
/// Templates as pages at 1:1: the first tells how to print and has a square to measure; small templates share pages, large ones are tiled.
/// </summary>
internal static class TemplatePages
{
    private const double Gap_mm = 8;
    private const double NameHeight_mm = 3;
    private const double NameRoom_mm = 6;

    /// <summary>The bytes of a PDF file.</summary>
    public static byte[] Write(Kit kit, ImmutableArray<Template> templates, PaperFormat format)
    {
        using var font = new PaperFont();
        var title = $"{ShopSheet.Title(kit)}: templates, revision {Revision.Of(kit.Job)}";
        var page = new TemplatePage(format, title, new(kit.Job.Unit), font);
        var pages = Contents(templates, page, font);
        XElement[] drawn = [First(kit, page, format, pages.Length + 1), .. pages.Select((p, i) => page.Make(p.Head, i + 2, pages.Length + 1, p.Content))];
        return PdfFile.Write(CleanText.Of(title), format, drawn.Select(svg => new Action<SKCanvas>(canvas =>
        {
            using var painter = new DrawingPainter(canvas, font);
            painter.Paint(svg, 0, 0, format.Width_mm);
        })));
    }

    private static ImmutableArray<(string Head, XElement[] Content)> Contents(ImmutableArray<Template> templates, TemplatePage page, PaperFont font)
    {
        var room = page.Room_mm;
        Vec2 Size(Template t) => new(Math.Min(room.X, Math.Max(t.Box.Size.X, font.Width(font.Shown(t.Name), NameHeight_mm))), t.Box.Size.Y + NameRoom_mm);
        var small = templates.Where(t => t.Box.Size.X <= room.X && Size(t).Y <= room.Y).ToArray();
        var places = Shelves.Lay([.. small.Select(Size)], room, Gap_mm);
        var pages = ImmutableArray.CreateBuilder<(string, XElement[])>();
        foreach (var sheet in small.Zip(places).GroupBy(p => p.Second.Sheet))
            pages.Add(("Templates at full size", [.. sheet.SelectMany(p => Small(p.First, p.Second.Corner_mm + new Vec2(TemplatePage.Margin_mm, TemplatePage.Top_mm), Size(p.First).X, font))]));
        foreach (var large in templates.Except(small))
        {
            var tiles = new TemplateTiles(large, room);
            foreach (var (row, column) in tiles.Used())
                pages.Add(($"{large.Name}: row {SheetNumbers.Whole(row + 1)} of {SheetNumbers.Whole(tiles.Rows)}, column {SheetNumbers.Whole(column + 1)} of {SheetNumbers.Whole(tiles.Columns)}",
                    [.. tiles.Draw(row, column, new(TemplatePage.Margin_mm, TemplatePage.Top_mm))]));
        }

        return pages.ToImmutable();
    }

    private static IEnumerable<XElement> Small(Template template, Vec2 at, double width, PaperFont font)
    {
        var box = template.Box;
        var shape = new TemplateShape(template, new(box.Low.X, box.High.Y), at + new Vec2(0, NameRoom_mm));
        return
        [
            PlanSheet.Letters(at.X, at.Y + 4, font.Cut(font.Shown(template.Name), NameHeight_mm, width), size: NameHeight_mm),
            shape.Cut(), .. shape.Drill(), .. shape.Engrave(), .. shape.Letters(_ => true),
        ];
    }

    private static XElement First(Kit kit, TemplatePage page, PaperFormat format, int count)
    {
        var numbers = new SheetNumbers(kit.Job.Unit);
        var content = new List<object?>();
        double y = TemplatePage.Top_mm + 4;
        Say(ShopSheet.Title(kit), 6);
        Say($"Print on {format.Name} at 100 %, “actual size”; turn off “fit to page”. Then measure the square below both ways, and the line at the foot of every page. If they are not what is printed at them, the templates are not full size: do not cut.");
        Say($"Lines are the finished edges at pattern size: contraction and all allowances are in them, and nothing is taken off for the width of a cut (kerf {numbers.ShortLength(0)}). Cut outside the line and work down to it; for a machine set half its kerf outward. The same templates are in cutting.dxf and cutting.svg.");
        Say($"Large templates go over several pages. Neighbours share a strip {numbers.ShortLength(TemplateTiles.Overlap_mm)} wide: cut one page along the broken line, lay it on the other until the crosses meet, and glue. Pages without a line on them are left out.");
        Say("The contraction rule reads the size of the cold casting when it is laid on the pattern. Gauges are of the casting as it comes out of the sand, by its casting tolerance: glue them on card or sheet before use. Paper moves with moisture: measure the square again on the day.");
        if (kit.Measures.Count(m => MeasureGauge.Make(m, numbers) is null) is > 0 and var without)
            Say($"Without a gauge: {SheetNumbers.Whole(without)} of the dimensions that matter. A step has none, nor has a size that was not met on the pattern, or one over {numbers.ShortLength(MeasureGauge.Longest_mm)}, at which card bends.");
        const double side = TemplatePage.CheckSquare_mm;
        var left = (format.Width_mm - side) / 2;
        content.Add(Shape("rect", Set("class", "cut"), Set("x", left), Set("y", y), Set("width", side), Set("height", side)));
        content.Add(PlanSheet.Letters(format.Width_mm / 2, y + (side / 2), $"{numbers.ShortLength(side)} both ways", "middle"));
        return page.Make("Templates at full size: read this first", 1, count, content);

        void Say(string text, double size_mm = 3.2)
        {
            var (lines, below) = page.Paragraph(text, y, size_mm);
            content.AddRange(lines);
            y = below;
        }
    }
}
