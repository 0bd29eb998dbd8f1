using System.Collections.Immutable;
using PatternKit.Exchange.Lettering;
using PatternKit.Geometry.Numerics;
using PatternKit.Sheets.Plans;
using SkiaSharp;

namespace PatternKit.Sheets.Pictures;

/// <summary>A page of pictures.</summary>
/// <param name="Png">Black on white.</param>
/// <param name="Width">Pixels across.</param>
/// <param name="Height">Pixels down.</param>
internal sealed record PagePicture(byte[] Png, int Width, int Height);

/// <summary>
/// Panels side by side on a page with a head, hatches explained and lines of text below. Leaders end in a dot on what is seen, as in ISO 128-2; a broken leader with a
/// ring points at what lies behind or inside. Black on white: nothing depends on colour.
/// </summary>
internal static class PicturePage
{
    /// <summary>Beside a view, for numbers, pixels.</summary>
    public const int Side = 56;

    private const int Edge = 24, Gap = 24, HeadHeight = 64, TitleHeight = 44, LineHeight = 34, Text = 24, Small = 22, BalloonRadius = 17, BalloonDistance = 40;

    /// <summary>The page as PNG.</summary>
    /// <param name="head">One line over all; empty for none.</param>
    /// <param name="panels">All of one width.</param>
    /// <param name="columns">Panels in a row.</param>
    /// <param name="legend">Hatches with what they mean; null for the thick line.</param>
    /// <param name="lines">Below all; what is longer than the page is cut.</param>
    public static PagePicture Draw(string head, ImmutableArray<PicturePanel> panels, int columns, ImmutableArray<(Hatch? Hatch, string Meaning)> legend, ImmutableArray<string> lines)
    {
        var panelWidth = panels[0].View.Width + (2 * Side);
        columns = Math.Min(columns, panels.Length);
        var rows = panels.Chunk(columns).ToArray();
        var rowHeights = rows.Select(r => TitleHeight + r.Max(Tall) + Gap).ToArray();
        var width = (2 * Edge) + (columns * panelWidth) + ((columns - 1) * Gap);
        var headHeight = head.Length == 0 ? Edge : HeadHeight;
        var height = headHeight + rowHeights.Sum() + ((legend.IsEmpty ? 0 : 1) * (LineHeight + 8)) + (lines.Length * LineHeight) + Edge;
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using var canvas = new SKCanvas(bitmap);
        using var stream = LetterFont.Open(LetterWeight.Regular);
        using var face = SKTypeface.FromStream(stream);
        using var pen = new Pen(canvas, face);
        canvas.Clear(SKColors.White);
        pen.Write(head, Edge, 44, 30, width - (2 * Edge));
        double y = headHeight;
        for (var r = 0; r < rows.Length; r++)
        {
            for (var c = 0; c < rows[r].Length; c++) Panel(pen, rows[r][c], Edge + (c * (panelWidth + Gap)), y, panelWidth);
            y += rowHeights[r];
        }

        if (!legend.IsEmpty) Legend(pen, legend, ref y);
        foreach (var line in lines)
        {
            pen.Write(line, Edge, y + 24, Small, width - (2 * Edge));
            y += LineHeight;
        }

        canvas.Flush();
        using var pixels = bitmap.PeekPixels();
        using var data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Up, 6)) ?? throw new InvalidOperationException("The picture could not be encoded.");
        return new(data.ToArray(), width, height);
    }

    /// <summary>A view, or as much as the numbers beside it need.</summary>
    private static int Tall(PicturePanel panel) =>
        Math.Max(panel.View.Height, BalloonDistance * (1 + Math.Max(panel.Marks.Count(m => IsLeft(panel, m)), panel.Marks.Count(m => !IsLeft(panel, m)))));

    private static bool IsLeft(PicturePanel panel, PictureMark mark) => mark.At.X < panel.View.Width / 2.0;

    private static void Panel(Pen pen, PicturePanel panel, double x, double y, int width)
    {
        pen.Write(panel.Title, x + Side, y + 28, Text, width - Side);
        var top = y + TitleHeight;
        pen.Paint(panel.View, x + Side, top);
        if (panel.Up is { } up) pen.Arrow(up, x + (Side / 2.0), top + (panel.View.Height / 2.0) + 45, 90, Small);
        foreach (var left in new[] { true, false })
        {
            var marks = panel.Marks.Where(m => IsLeft(panel, m) == left).OrderBy(m => m.At.Y).ToArray();
            // Numbers after all leaders, none of which then crosses one.
            var at = LeaderRows.Spread([.. marks.Select(m => m.At.Y)], BalloonRadius + 2, Tall(panel) - BalloonRadius - 2, BalloonDistance);
            for (var i = 0; i < marks.Length; i++)
            {
                pen.Leader(Balloon(i), new(x + Side + marks[i].At.X, top + marks[i].At.Y), BalloonRadius, marks[i].IsSeen);
            }

            for (var i = 0; i < marks.Length; i++) pen.Number(marks[i].Number, Balloon(i), BalloonRadius, Small);

            Vec2 Balloon(int i) => new(left ? x + BalloonRadius + 4 : x + width - BalloonRadius - 4, top + at[i]);
        }
    }

    private static void Legend(Pen pen, ImmutableArray<(Hatch? Hatch, string Meaning)> legend, ref double y)
    {
        const int swatchWidth = 48, swatchHeight = 26;
        double x = Edge;
        foreach (var (hatch, meaning) in legend)
        {
            if (hatch is { } h) pen.Swatch(h, x, y, swatchWidth, swatchHeight);
            else pen.Stroke(x, y, swatchWidth, swatchHeight);
            x += swatchWidth + 10 + pen.Write(meaning, x + swatchWidth + 10, y + 21, Small, double.PositiveInfinity) + 36;
        }

        y += LineHeight + 8;
    }
}
