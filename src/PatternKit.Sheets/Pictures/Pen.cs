using System.Globalization;
using PatternKit.Geometry.Numerics;
using SkiaSharp;

namespace PatternKit.Sheets.Pictures;

/// <summary>Draws on a page: text of the typeface that travels with the product, leaders, numbers, views. Pixels, y downward.</summary>
internal sealed class Pen(SKCanvas canvas, SKTypeface face) : IDisposable
{
    private readonly SKPaint ink = new() { Color = SKColors.Black, IsAntialias = true };
    private readonly SKPaint paper = new() { Color = SKColors.White, IsAntialias = true };
    private readonly SKPaint line = new() { Color = SKColors.Black, IsAntialias = true, IsStroke = true, StrokeWidth = 2 };

    // A white rim keeps a leader apart from the hatching under it.
    private readonly SKPaint rim = new() { Color = SKColors.White, IsAntialias = true, IsStroke = true, StrokeWidth = 6 };
    private readonly SKPathEffect broken = SKPathEffect.CreateDash([9, 6], 0);

    /// <summary>Writes one line, cut with an ellipsis where it is longer than the width, and returns how long it is.</summary>
    public double Write(string text, double x, double baseline, float size, double width)
    {
        using var font = new SKFont(face, size);
        var shown = text;
        while (shown.Length > 1 && font.MeasureText(shown) > width) shown = shown.TrimEnd('…')[..^1].TrimEnd() + "…";
        canvas.DrawText(shown, (float)x, (float)baseline, SKTextAlign.Left, font, ink);
        return font.MeasureText(shown);
    }

    /// <summary>A view with its upper left corner at a place.</summary>
    public void Paint(BodyView view, double x, double y)
    {
        using var grey = BodyPicture.Grey(view);
        canvas.DrawBitmap(grey, (float)x, (float)y, SKSamplingOptions.Default);
    }

    /// <summary>A leader from the rim of a balloon to a place: solid with a dot, or broken with a ring.</summary>
    public void Leader(Vec2 balloon, Vec2 place, double radius, bool isSolid)
    {
        const float dot = 5;
        var edge = balloon + (radius * (place - balloon).Normalized());
        canvas.DrawLine(Point(edge), Point(place), rim);
        line.PathEffect = isSolid ? null : broken;
        canvas.DrawLine(Point(edge), Point(place), line);
        line.PathEffect = null;
        canvas.DrawCircle(Point(place), dot + 2, paper);
        canvas.DrawCircle(Point(place), dot, isSolid ? ink : line);
    }

    /// <summary>An arrow up with a word at its foot.</summary>
    public void Arrow(string word, double x, double foot, double length, float size)
    {
        const float head = 8;
        var (at, top) = ((float)x, (float)(foot - length));
        canvas.DrawLine(at, (float)foot, at, top, line);
        canvas.DrawLine(at - head, top + (2 * head), at, top, line);
        canvas.DrawLine(at + head, top + (2 * head), at, top, line);
        using var font = new SKFont(face, size);
        canvas.DrawText(word, at, (float)(foot + (1.1 * size)), SKTextAlign.Center, font, ink);
    }

    /// <summary>A number in a balloon.</summary>
    public void Number(int number, Vec2 balloon, double radius, float size)
    {
        canvas.DrawCircle(Point(balloon), (float)radius, paper);
        canvas.DrawCircle(Point(balloon), (float)radius, line);
        using var font = new SKFont(face, size);
        canvas.DrawText(number.ToString(CultureInfo.InvariantCulture), (float)balloon.X, (float)(balloon.Y + (0.36 * size)), SKTextAlign.Center, font, ink);
    }

    /// <summary>A piece of hatching in a frame.</summary>
    public void Swatch(Hatch hatch, double x, double y, int width, int height)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Gray8, SKAlphaType.Opaque));
        for (var row = 0; row < height; row++)
            for (var column = 0; column < width; column++)
                bitmap.SetPixel(column, row, Hatches.IsInk(hatch, column, row) ? new SKColor(Hatches.Ink, Hatches.Ink, Hatches.Ink) : new SKColor(220, 220, 220));
        canvas.DrawBitmap(bitmap, (float)x, (float)y, SKSamplingOptions.Default);
        canvas.DrawRect((float)x, (float)y, width, height, line);
    }

    /// <summary>A piece of a thick line.</summary>
    public void Stroke(double x, double y, int width, int height) => canvas.DrawRect((float)x, (float)(y + (height / 2.0) - 2), width, 4, ink);

    public void Dispose()
    {
        ink.Dispose();
        paper.Dispose();
        line.Dispose();
        rim.Dispose();
        broken.Dispose();
    }

    private static SKPoint Point(Vec2 p) => new((float)p.X, (float)p.Y);
}
