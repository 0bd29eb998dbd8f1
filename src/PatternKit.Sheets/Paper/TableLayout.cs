using System.Collections.Immutable;
using SkiaSharp;

namespace PatternKit.Sheets.Paper;

/// <summary>A cell of a table.</summary>
internal readonly record struct TableCell(ImmutableArray<Span> Spans, bool IsNumber);

/// <summary>Sets tables on pages: columns by what they hold, heads again on every page, rows kept together as long as a page takes them.</summary>
internal sealed class TableLayout(PageFlow flow, PaperFont font)
{
    private const double Size_mm = 2.9;
    private const double Between_mm = 3;
    private const double Above_mm = 0.9;

    public void Make(ImmutableArray<TableCell> heads, IReadOnlyList<ImmutableArray<TableCell>> rows, double left, double width)
    {
        var widths = Widths(heads, rows, width);
        // The caption has room for the head and a row under it.
        Row(heads, widths, left, 0.3, null);
        foreach (var row in rows) Row(row, widths, left, 0.1, heads);
        flow.Gap(3);
    }

    private double[] Widths(ImmutableArray<TableCell> heads, IReadOnlyList<ImmutableArray<TableCell>> rows, double width)
    {
        var count = heads.Length;
        var room = width - ((count - 1) * Between_mm);
        var (least, most) = (new double[count], new double[count]);
        foreach (var row in rows.Prepend(heads))
            for (var i = 0; i < Math.Min(count, row.Length); i++)
            {
                var (word, whole) = TextBlock.Extent(font, row[i].Spans, Size_mm);
                (least[i], most[i]) = (Math.Max(least[i], Math.Min(word, 0.5 * room)), Math.Max(most[i], whole));
            }

        for (var i = 0; i < count; i++) (least[i], most[i]) = (least[i] + 0.05, Math.Max(least[i], most[i]) + 0.1);
        var (leastSum, mostSum) = (least.Sum(), most.Sum());
        if (mostSum <= room) return most;
        if (leastSum >= room) return [.. least.Select(l => l * room / leastSum)];
        // What is left goes to the columns by the root of what they lack, so that one long text does not take all.
        var lack = least.Zip(most, (l, m) => Math.Sqrt(m - l)).ToArray();
        var widths = least.ToArray();
        for (var again = 0; again < 4; again++)
        {
            var left = room - widths.Sum();
            var sum = lack.Where((_, i) => widths[i] < most[i]).Sum();
            if (left < 0.01 || sum == 0) break;
            for (var i = 0; i < count; i++)
                if (widths[i] < most[i]) widths[i] = Math.Min(most[i], widths[i] + (left * lack[i] / sum));
        }

        return widths;
    }

    private void Row(ImmutableArray<TableCell> cells, double[] widths, double left, double rule, ImmutableArray<TableCell>? heads)
    {
        var blocks = cells.Select((c, i) => new TextBlock(font, c.Spans, Size_mm, widths[i] + 0.02)).ToArray();
        var lines = blocks.Max(b => b.Count);
        var lineHeight = blocks[0].LineHeight_mm;
        var whole = (lines * lineHeight) + (2 * Above_mm);
        if (flow.Room(Math.Min(whole, flow.Height_mm / 2)) && heads is { } again) Row(again, widths, left, 0.3, null);
        flow.Advance(Above_mm);
        for (var line = 0; line < lines; line++)
        {
            if (flow.Room(lineHeight) && heads is { } once) Row(once, widths, left, 0.3, null);
            var (x, top) = (left, flow.Y_mm);
            for (var i = 0; i < blocks.Length; i++)
            {
                var (block, at, number, n) = (blocks[i], cells[i].IsNumber ? x + widths[i] : x, cells[i].IsNumber, line);
                if (line < block.Count) flow.Paint(canvas => block.Paint(canvas, n, at, top, number));
                x += widths[i] + Between_mm;
            }

            flow.Advance(lineHeight);
        }

        flow.Advance(Above_mm);
        var (y, right) = (flow.Y_mm, left + widths.Sum() + ((widths.Length - 1) * Between_mm));
        flow.Paint(canvas =>
        {
            using var ink = new SKPaint { Color = SKColor.Parse(rule > 0.2 ? "1a1c1e" : "b9bec4"), StrokeWidth = (float)rule, IsStroke = true };
            canvas.DrawLine((float)left, (float)y, (float)right, (float)y, ink);
        });
    }
}
