using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Texts;
using SkiaSharp;

namespace PatternKit.Sheets.Paper;

/// <summary>
/// shop-sheet.pdf: the document of the sheet set on pages. HTML and PDF are one document, so that they say the same; its drawings are painted by
/// <see cref="DrawingPainter"/>. What is not known here is set as what it holds.
/// </summary>
internal sealed class SheetPdf
{
    private const double BodySize_mm = 3.2;
    private const double SmallSize_mm = 2.8;

    private static readonly HashSet<string> Blocks = ["p", "ul", "ol", "dl", "div", "figure", "table", "section", "article", "h2", "h3", "svg"];

    private readonly PageFlow flow;
    private readonly PaperFont font;

    private SheetPdf(PageFlow flow, PaperFont font) => (this.flow, this.font) = (flow, font);

    /// <summary>The bytes of the PDF file.</summary>
    /// <param name="document">The sheet, an html element.</param>
    /// <param name="title">Of the job.</param>
    /// <param name="revision">Stands at the foot of every page.</param>
    /// <param name="format">Of the pages.</param>
    public static byte[] Write(XElement document, string title, string revision, PaperFormat format)
    {
        using var font = new PaperFont();
        var flow = new PageFlow(format);
        new SheetPdf(flow, font).Flow(document.Element(Markup.Xhtml + "body")!, PageFlow.Margin_mm, flow.Width_mm);
        var foot = font.Shown(CleanText.Of(title));
        return PdfFile.Write(CleanText.Of(title), format, flow.Pages.Select((page, i) => new Action<SKCanvas>(canvas =>
        {
            foreach (var paint in page) paint(canvas);
            Foot(canvas, font, format, foot, $"shop sheet, revision {revision}, page {SheetNumbers.Whole(i + 1)} of {SheetNumbers.Whole(flow.Pages.Count)}");
        })));
    }

    private static void Foot(SKCanvas canvas, PaperFont font, PaperFormat format, string left, string right)
    {
        using var ink = new SKPaint { Color = SKColor.Parse("4a4f55"), IsAntialias = true };
        var y = format.Height_mm - 9;
        const double small = 2.6;
        var room = format.Width_mm - (2 * PageFlow.Margin_mm) - font.Width(right, small) - 6;
        font.Draw(canvas, font.Cut(left, small, room), PageFlow.Margin_mm, y, SKTextAlign.Left, small, false, ink);
        font.Draw(canvas, right, format.Width_mm - PageFlow.Margin_mm, y, SKTextAlign.Right, small, false, ink);
    }

    private void Flow(XElement e, double left, double width)
    {
        switch (e.Name.LocalName)
        {
            case "h1":
                Text(e, 6.2, left, width, true, 0, 3);
                break;
            case "h2":
                Head(e, 4.4, left, width, 5);
                break;
            case "h3":
                Head(e, 3.5, left, width, 2);
                break;
            case "p" or "caption" or "figcaption":
                Text(e, Class(e) is "kind" || e.Name.LocalName != "p" ? SmallSize_mm : BodySize_mm, left, width, false, 0.6, e.Name.LocalName == "caption" ? 0.6 : 1.4, e.Name.LocalName != "p");
                break;
            case "ul" or "ol":
                List(e, left, width);
                break;
            case "dl":
                Definitions(e, left, width);
                break;
            case "table":
                Table(e, left, width);
                break;
            case "figure":
                Figure(e, left, width);
                break;
            case "svg":
                Drawing(e, left, width);
                break;
            case "div" when Class(e) == "pictures":
                foreach (var row in e.Elements().Chunk(2)) Pictures(row, left, width);
                break;
            case "article":
                flow.Room(20);
                flow.Gap(2);
                flow.Barred(left, 0.8, () => Mixed(e, left + 4, width - 4));
                break;
            case "section" when Class(e) == "cautions":
                flow.Barred(left, 1.6, () => Mixed(e, left + 5, width - 5));
                break;
            default:
                Mixed(e, left, width);
                break;
        }
    }

    /// <summary>Blocks one after the other, and what stands between them as paragraphs.</summary>
    private void Mixed(XElement e, double left, double width)
    {
        var inline = new List<XNode>();
        foreach (var node in e.Nodes())
        {
            if (node is XElement child && (Blocks.Contains(child.Name.LocalName) || child.Name.LocalName is "h1" or "header" or "main" or "footer" or "caption" or "figcaption"))
            {
                Say();
                Flow(child, left, width);
            }
            else
            {
                inline.Add(node);
            }
        }

        Say();

        void Say()
        {
            Set(new(font, inline.SelectMany(n => Spans(n, false, false)), BodySize_mm, width), left);
            inline.Clear();
        }
    }

    private void Head(XElement e, double size, double left, double width, double above)
    {
        // A head does not stand alone at the foot of a page.
        flow.Room(above + (3 * size) + (e.Name.LocalName == "h2" ? 34 : 16));
        flow.Gap(above);
        if (e.Name.LocalName == "h2" && Class(e.Parent!) != "cautions")
        {
            var y = flow.Y_mm;
            flow.Paint(canvas =>
            {
                using var ink = new SKPaint { Color = SKColor.Parse("1a1c1e"), StrokeWidth = 0.5f, IsStroke = true };
                canvas.DrawLine((float)left, (float)y, (float)(left + width), (float)y, ink);
            });
            flow.Advance(1.5);
        }

        Text(e, size, left, width, true, 0, 1);
    }

    private void Text(XElement e, double size, double left, double width, bool isBold, double above, double below, bool isSoft = false)
    {
        var block = new TextBlock(font, Spans(e, isBold, isSoft), size, width);
        if (block.Count == 0) return;
        flow.Gap(above);
        Set(block, left);
        flow.Gap(below);
    }

    private void Set(TextBlock block, double left)
    {
        // Neither the first nor the last line of a paragraph stands alone.
        if (block.Count is > 1 and <= 3) flow.Room(block.Height_mm);
        for (var i = 0; i < block.Count; i++)
        {
            flow.Room((i == 0 && block.Count > 3 ? 2 : 1) * block.LineHeight_mm);
            var (line, top) = (i, flow.Y_mm);
            flow.Paint(canvas => block.Paint(canvas, line, left, top));
            flow.Advance(block.LineHeight_mm);
        }
    }

    private void List(XElement e, double left, double width)
    {
        var number = (int?)e.Attribute("start") ?? 1;
        const double indent = 7;
        flow.Gap(0.5);
        foreach (var item in e.Elements())
        {
            flow.Room(2 * 1.38 * BodySize_mm);
            var top = flow.Y_mm;
            if (item.Element(Markup.Svg + "svg") is { } sample)
            {
                flow.Paint(canvas =>
                {
                    using var painter = new DrawingPainter(canvas, font);
                    painter.Paint(sample, left, top + 0.8, 9);
                });
                Mixed(new(item.Name, item.Nodes().Where(n => n != sample)), left + 11, width - 11);
            }
            else
            {
                var mark = new TextBlock(font, [new(e.Name.LocalName == "ol" ? number.ToString(CultureInfo.InvariantCulture) + "." : "•", false, false)], BodySize_mm, indent);
                flow.Paint(canvas => mark.Paint(canvas, 0, left + 1, top));
                Mixed(item, left + indent, width - indent);
            }

            flow.Gap(0.7);
            number++;
        }
    }

    private void Definitions(XElement e, double left, double width)
    {
        var pairs = e.Descendants().Where(d => d.Name.LocalName is "dt" or "dd").Chunk(2).Where(p => p.Length == 2).ToArray();
        if (pairs.Length == 0) return;
        var first = Math.Min(0.35 * width, pairs.Max(p => TextBlock.Extent(font, Spans(p[0], false, true), SmallSize_mm).Whole) + 4);
        foreach (var pair in pairs)
        {
            var (name, value) = (new TextBlock(font, Spans(pair[0], false, true), SmallSize_mm, first - 2), new TextBlock(font, Spans(pair[1], Class(e) == "facts", false), SmallSize_mm, width - first));
            for (var i = 0; i < Math.Max(name.Count, value.Count); i++)
            {
                flow.Room(name.LineHeight_mm);
                var (line, top) = (i, flow.Y_mm);
                if (i < name.Count) flow.Paint(canvas => name.Paint(canvas, line, left, top));
                if (i < value.Count) flow.Paint(canvas => value.Paint(canvas, line, left + first, top));
                flow.Advance(name.LineHeight_mm);
            }

            flow.Gap(0.4);
        }

        flow.Gap(1.5);
    }

    private void Table(XElement e, double left, double width)
    {
        var rows = e.Descendants(Markup.Xhtml + "tr").Select(r => r.Elements().Select(c => new TableCell([.. Spans(c, c.Name.LocalName == "th", false)], Class(c) == "number")).ToImmutableArray()).ToArray();
        if (rows.Length == 0) return;
        flow.Room(26);
        if (e.Element(Markup.Xhtml + "caption") is { } caption) Flow(caption, left, width);
        new TableLayout(flow, font).Make(rows[0], rows[1..], left, width);
    }

    // A figure keeps its caption.
    private void Figure(XElement e, double left, double width)
    {
        var drawing = e.Descendants(Markup.Svg + "svg").FirstOrDefault(s => s.Attribute("aria-hidden") is null);
        if (drawing is null)
        {
            Mixed(e, left, width);
            return;
        }

        flow.Gap(2);
        flow.Room(Size(drawing, width).Height + 10);
        Drawing(drawing, left, width);
        foreach (var child in e.Elements().Where(c => c.Name.LocalName is "figcaption" or "ul" or "p")) Flow(child, left, width);
        flow.Gap(2);
    }

    private void Drawing(XElement svg, double left, double width)
    {
        var (drawnWidth, height) = Size(svg, width);
        flow.Room(height);
        var top = flow.Y_mm;
        flow.Paint(canvas =>
        {
            using var painter = new DrawingPainter(canvas, font);
            painter.Paint(svg, left, top, drawnWidth);
        });
        flow.Advance(height);
    }

    private void Pictures(XElement[] figures, double left, double width)
    {
        const double between = 6;
        var each = (width - between) / 2;
        var blocks = figures.Select((f, i) => (Svg: f.Descendants(Markup.Svg + "svg").First(), Caption: new TextBlock(font, f.Elements().Where(c => c.Name.LocalName == "figcaption").SelectMany(c => Spans(c, false, true)), SmallSize_mm, each), X: left + (i * (each + between)))).ToArray();
        var height = blocks.Max(b => Size(b.Svg, each).Height);
        flow.Room(height + blocks.Max(b => b.Caption.Height_mm) + 3);
        var top = flow.Y_mm;
        flow.Paint(canvas =>
        {
            using var painter = new DrawingPainter(canvas, font);
            foreach (var (svg, _, x) in blocks) painter.Paint(svg, x, top + height - Size(svg, each).Height, Size(svg, each).Width);
        });
        flow.Advance(height + 1);
        var below = flow.Y_mm;
        foreach (var (_, caption, x) in blocks)
            for (var i = 0; i < caption.Count; i++)
            {
                var line = i;
                flow.Paint(canvas => caption.Paint(canvas, line, x, below + (line * caption.LineHeight_mm)));
            }

        flow.Advance(blocks.Max(b => b.Caption.Height_mm) + 2);
    }

    // Full size where it fits, so that the scale told holds.
    private (double Width, double Height) Size(XElement svg, double width)
    {
        var view = ((string)svg.Attribute("viewBox")!).Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray();
        var wanted = svg.Attribute("width") is { } given ? Math.Min(width, double.Parse(given.Value.Replace("mm", "", StringComparison.Ordinal), CultureInfo.InvariantCulture)) : width;
        var ratio = view[3] / view[2];
        return wanted * ratio > flow.Height_mm - 12 ? ((flow.Height_mm - 12) / ratio, flow.Height_mm - 12) : (wanted, wanted * ratio);
    }

    private IEnumerable<Span> Spans(XNode node, bool isBold, bool isSoft)
    {
        if (node is XText text)
        {
            yield return new(font.Shown(text.Value), isBold, isSoft);
            yield break;
        }

        if (node is not XElement e || e.Name.LocalName is "svg") yield break;
        var (bold, soft) = (isBold || e.Name.LocalName == "strong" || Class(e) == "severity", isSoft || Class(e) is "source" or "soft" or "practice" or "kind");
        foreach (var span in e.Nodes().SelectMany(n => Spans(n, bold, soft))) yield return span;
    }

    private static string? Class(XElement e) => (string?)e.Attribute("class");
}
