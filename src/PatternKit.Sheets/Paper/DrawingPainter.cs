using System.Globalization;
using System.Xml.Linq;
using PatternKit.Sheets.Html;
using SkiaSharp;

namespace PatternKit.Sheets.Paper;

/// <summary>
/// Paints a drawing, which is an SVG element in paper millimetres, on a canvas whose unit is the millimetre. It knows what drawings are made of:
/// g, svg, path, line, circle, rect, text, image; classes of <see cref="DrawingStyle"/>; a turn of text.
/// </summary>
internal sealed class DrawingPainter(SKCanvas canvas, PaperFont font) : IDisposable
{
    private readonly SKPaint paint = new() { IsAntialias = true, StrokeJoin = SKStrokeJoin.Round };

    /// <summary>Paints a whole drawing into a box of the paper.</summary>
    public void Paint(XElement svg, double x_mm, double y_mm, double width_mm)
    {
        var view = Numbers(svg, "viewBox");
        var scale = (float)(width_mm / view[2]);
        canvas.Save();
        canvas.Translate((float)x_mm, (float)y_mm);
        canvas.Scale(scale);
        canvas.Translate((float)-view[0], (float)-view[1]);
        foreach (var child in svg.Elements()) Paint(child);
        canvas.Restore();
    }

    public void Dispose() => paint.Dispose();

    private void Paint(XElement e)
    {
        var style = DrawingStyle.Of((string?)e.Attribute("class"));
        switch (e.Name.LocalName)
        {
            case "g":
                foreach (var child in e.Elements()) Paint(child);
                break;
            case "svg":
                canvas.Save();
                canvas.ClipRect(SKRect.Create(N(e, "x"), N(e, "y"), N(e, "width"), N(e, "height")));
                Paint(e, N(e, "x"), N(e, "y"), N(e, "width"));
                canvas.Restore();
                break;
            case "path":
                using (var path = SKPath.ParseSvgPathData((string?)e.Attribute("d") ?? ""))
                {
                    path.FillType = SKPathFillType.EvenOdd;
                    Draw(e, style, p => canvas.DrawPath(path, p));
                }

                break;
            case "line":
                Draw(e, style with { Fill = null }, p => canvas.DrawLine(N(e, "x1"), N(e, "y1"), N(e, "x2"), N(e, "y2"), p));
                break;
            case "circle":
                Draw(e, style, p => canvas.DrawCircle(N(e, "cx"), N(e, "cy"), N(e, "r"), p));
                break;
            case "rect":
                Draw(e, style, p => canvas.DrawRect(N(e, "x"), N(e, "y"), N(e, "width"), N(e, "height"), p));
                break;
            case "text":
                Letters(e);
                break;
            case "image":
                Image(e);
                break;
        }
    }

    // Attributes come before the class, as far as drawings use them.
    private void Draw(XElement e, DrawingStyle style, Action<SKPaint> draw)
    {
        var fill = Colour(e, "fill", style.Fill);
        var stroke = Colour(e, "stroke", style.Stroke);
        if (fill is not null)
        {
            (paint.Style, paint.Color, paint.PathEffect) = (SKPaintStyle.Fill, SKColor.Parse(fill), null);
            draw(paint);
        }

        if (stroke is null) return;
        using var dashes = style.Dashes_mm.Length > 0 ? SKPathEffect.CreateDash([.. style.Dashes_mm.Select(d => (float)d)], 0) : null;
        (paint.Style, paint.Color, paint.PathEffect) = (SKPaintStyle.Stroke, SKColor.Parse(stroke), dashes);
        paint.StrokeWidth = e.Attribute("stroke-width") is null ? (float)style.Width_mm : N(e, "stroke-width");
        draw(paint);
        paint.PathEffect = null;
    }

    private void Letters(XElement e)
    {
        var (x, y, size) = (N(e, "x"), N(e, "y"), N(e, "font-size"));
        var align = (string?)e.Attribute("text-anchor") switch { "middle" => SKTextAlign.Center, "end" => SKTextAlign.Right, _ => SKTextAlign.Left };
        (paint.Style, paint.Color, paint.PathEffect) = (SKPaintStyle.Fill, SKColor.Parse(DrawingStyle.Default.Fill), null);
        canvas.Save();
        if (e.Attribute("transform") is { } turn)
        {
            var inside = turn.Value[(turn.Value.IndexOf('(', StringComparison.Ordinal) + 1)..].TrimEnd(')').Split(' ');
            canvas.RotateDegrees(Parse(inside[0]), x, y);
        }

        font.Draw(canvas, font.Shown(e.Value), x, y, align, size, (string?)e.Attribute("font-weight") == "600", paint);
        canvas.Restore();
    }

    private void Image(XElement e)
    {
        const string head = "data:image/png;base64,";
        var link = (string?)e.Attribute("href") ?? "";
        if (!link.StartsWith(head, StringComparison.Ordinal)) return;
        using var image = SKImage.FromEncodedData(Convert.FromBase64String(link[head.Length..]));
        canvas.DrawImage(image, SKRect.Create(N(e, "x"), N(e, "y"), N(e, "width"), N(e, "height")), new SKSamplingOptions(SKCubicResampler.Mitchell), null);
    }

    private static string? Colour(XElement e, string name, string? otherwise) =>
        (string?)e.Attribute(name) switch { null => otherwise, "none" => null, var given => given.TrimStart('#') };

    private static float N(XElement e, string name) => Parse((string?)e.Attribute(name) ?? "0");

    private static double[] Numbers(XElement e, string name) => [.. ((string)e.Attribute(name)!).Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture))];

    private static float Parse(string number) => float.Parse(number.Replace("mm", "", StringComparison.Ordinal), CultureInfo.InvariantCulture);
}
