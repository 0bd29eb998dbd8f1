using System.Text;
using PatternKit.Exchange.Lettering;
using SkiaSharp;

namespace PatternKit.Sheets.Paper;

/// <summary>The typeface that travels with the product, in both weights, as paper uses it: sizes and widths in millimetres.</summary>
internal sealed class PaperFont : IDisposable
{
    private readonly Lazy<SKTypeface> regular = new(() => Open(LetterWeight.Regular));
    private readonly Lazy<SKTypeface> bold = new(() => Open(LetterWeight.SemiBold));
    private readonly Dictionary<(double Size, bool Bold), SKFont> fonts = [];

    /// <summary>A font of a size in millimetres, without hinting, which would round widths to whole units.</summary>
    public SKFont Of(double size_mm, bool isBold)
    {
        if (fonts.TryGetValue((size_mm, isBold), out var font)) return font;
        return fonts[(size_mm, isBold)] = new((isBold ? bold : regular).Value, (float)size_mm) { Subpixel = true, LinearMetrics = true, Hinting = SKFontHinting.None };
    }

    /// <summary>How wide a text is, mm.</summary>
    public double Width(string text, double size_mm, bool isBold = false) => Of(size_mm, isBold).MeasureText(text);

    /// <summary>Draws a line of text. Letters beyond Latin keep their own characters in a PDF file, where a glyph that two characters share would be read as either.</summary>
    public void Draw(SKCanvas canvas, string text, double x, double y, SKTextAlign align, double size_mm, bool isBold, SKPaint paint)
    {
        var font = Of(size_mm, isBold);
        if (text.All(c => c < '\u0250'))
        {
            canvas.DrawText(text, (float)x, (float)y, align, font, paint);
            return;
        }

        var left = x - (Width(text, size_mm, isBold) * (align == SKTextAlign.Center ? 0.5 : align == SKTextAlign.Right ? 1 : 0));
        var bytes = Encoding.UTF8.GetBytes(text);
        var glyphs = font.GetGlyphs(text);
        using var builder = new SKTextBlobBuilder();
        var run = builder.AllocateTextRun(font, glyphs.Length, 0, 0, bytes.Length);
        glyphs.CopyTo(run.Glyphs);
        bytes.CopyTo(run.Text);
        var at = 0;
        var clusters = text.EnumerateRunes().Select(r => (Start: at, End: at += r.Utf8SequenceLength).Start).ToArray();
        for (var i = 0; i < glyphs.Length; i++) run.Clusters[i] = (uint)clusters[i];
        using var blob = builder.Build();
        canvas.DrawText(blob, (float)left, (float)y, paint);
    }

    /// <summary>The text as it can be set: signs that the typeface lacks are put in their like, or named with their script and numbers, never dropped.</summary>
    public string Shown(string text)
    {
        if (text.All(c => c is >= ' ' and < '\u007F')) return text;
        var result = new StringBuilder(text.Length);
        var missing = new List<Rune>();
        foreach (var rune in text.EnumerateRunes())
        {
            var known = Like(rune);
            if (known is null)
            {
                missing.Add(rune);
                continue;
            }

            Tell();
            result.Append(known);
        }

        Tell();
        return result.ToString();

        void Tell()
        {
            if (missing.Count > 0) result.Append(ScriptNames.Told(missing));
            missing.Clear();
        }
    }

    /// <summary>The longest beginning of a text that fits, with an ellipsis where something is left out.</summary>
    public string Cut(string text, double size_mm, double width_mm, bool isBold = false)
    {
        if (Width(text, size_mm, isBold) <= width_mm) return text;
        var keep = text.Length;
        while (keep > 0 && Width(text[..keep].TrimEnd() + "…", size_mm, isBold) > width_mm) keep--;
        return text[..(keep > 0 && char.IsHighSurrogate(text[keep - 1]) ? keep - 1 : keep)].TrimEnd() + "…";
    }

    public void Dispose()
    {
        foreach (var font in fonts.Values) font.Dispose();
        foreach (var face in new[] { regular, bold })
            if (face.IsValueCreated) face.Value.Dispose();
    }

    private string? Like(Rune rune)
    {
        if (rune.Value is '\n' or '\t') return " ";
        if (Of(1, false).ContainsGlyph(rune.Value) && Of(1, true).ContainsGlyph(rune.Value)) return rune.ToString();
        return rune.Value switch
        {
            0x202F or 0x2009 or 0x2007 => "\u00A0",
            0x26A0 => "▲",
            0x2300 => "Ø",
            0x2011 => "-",
            0x2212 => "–",
            0xFE0F => "",
            _ => null,
        };
    }

    private static SKTypeface Open(LetterWeight weight)
    {
        using var stream = LetterFont.Open(weight);
        return SKTypeface.FromStream(stream);
    }
}
