using System.Collections.Immutable;
using SkiaSharp;

namespace PatternKit.Sheets.Paper;

/// <summary>A stretch of text of one look.</summary>
/// <param name="Text">Blanks in it may become line breaks.</param>
/// <param name="IsBold">Semi-bold.</param>
/// <param name="IsSoft">Grey: beside the matter.</param>
internal readonly record struct Span(string Text, bool IsBold, bool IsSoft);

/// <summary>A paragraph broken into lines.</summary>
internal sealed class TextBlock
{
    private const double Spacing = 1.38;
    private static readonly SKColor Ink = SKColor.Parse("1a1c1e"), Soft = SKColor.Parse("4a4f55");

    private readonly PaperFont font;
    private readonly double size;
    private readonly ImmutableArray<ImmutableArray<(double X, Span Span)>> lines;
    private readonly ImmutableArray<double> widths;

    /// <summary>Breaks text to a width, mm.</summary>
    public TextBlock(PaperFont font, IEnumerable<Span> spans, double size_mm, double width_mm)
    {
        (this.font, size) = (font, size_mm);
        var all = ImmutableArray.CreateBuilder<ImmutableArray<(double, Span)>>();
        var ends = ImmutableArray.CreateBuilder<double>();
        var line = ImmutableArray.CreateBuilder<(double, Span)>();
        double x = 0;
        foreach (var (pieces, blankBefore) in Words(spans))
        {
            var blank = blankBefore && line.Count > 0 ? Width(new(" ", false, false)) : 0;
            var width = pieces.Sum(Width);
            if (x + blank + width > width_mm && line.Count > 0)
            {
                End();
                blank = 0;
            }

            foreach (var piece in pieces)
            {
                var rest = piece;
                // A word longer than a line is broken anywhere.
                while (x + blank + Width(rest) > width_mm && rest.Text.Length > 1 && line.Count == 0)
                {
                    var keep = LineBreaks.Fitting(rest.Text, width_mm, t => Width(rest with { Text = t }));
                    line.Add((0, rest with { Text = rest.Text[..keep] }));
                    x = width_mm;
                    rest = rest with { Text = rest.Text[keep..] };
                    End();
                }

                Put(blank, rest);
                blank = 0;
            }
        }

        if (line.Count > 0) End();
        (lines, widths) = (all.ToImmutable(), ends.ToImmutable());

        void End()
        {
            all.Add(line.ToImmutable());
            ends.Add(x);
            line.Clear();
            x = 0;
        }

        // Neighbours of one look are one text, so that it can be searched.
        void Put(double blank, Span span)
        {
            if (line.Count > 0 && line[^1].Item2 is var last && last.IsBold == span.IsBold && last.IsSoft == span.IsSoft)
            {
                var joined = last with { Text = last.Text + (blank > 0 ? " " : "") + span.Text };
                line[^1] = (line[^1].Item1, joined);
                x = line[^1].Item1 + Width(joined);
                return;
            }

            line.Add((x + blank, span));
            x += blank + Width(span);
        }
    }

    /// <summary>How many lines.</summary>
    public int Count => lines.Length;

    /// <summary>From one line to the next.</summary>
    public double LineHeight_mm => Spacing * size;

    /// <summary>Of all lines.</summary>
    public double Height_mm => Count * LineHeight_mm;

    /// <summary>Paints one line.</summary>
    /// <param name="canvas">Unit mm.</param>
    /// <param name="line">Its number.</param>
    /// <param name="x">Left end; with <paramref name="toRight"/> the right one.</param>
    /// <param name="top">Upper edge of the line.</param>
    /// <param name="toRight">Whether it ends there.</param>
    public void Paint(SKCanvas canvas, int line, double x, double top, bool toRight = false)
    {
        using var paint = new SKPaint { IsAntialias = true };
        var left = toRight ? x - widths[line] : x;
        foreach (var (at, span) in lines[line])
        {
            paint.Color = span.IsSoft ? Soft : Ink;
            font.Draw(canvas, span.Text, left + at, top + (1.05 * size), SKTextAlign.Left, size, span.IsBold, paint);
        }
    }

    /// <summary>The widest word and the whole width of a text on one line, mm.</summary>
    public static (double Word, double Whole) Extent(PaperFont font, IEnumerable<Span> spans, double size_mm)
    {
        double word = 0, whole = 0;
        foreach (var (pieces, blank) in Words(spans))
        {
            var width = pieces.Sum(p => font.Width(p.Text, size_mm, p.IsBold));
            word = Math.Max(word, width);
            whole += width + (blank ? font.Width(" ", size_mm) : 0);
        }

        return (word, whole);
    }

    private double Width(Span span) => font.Width(span.Text, size, span.IsBold);

    // What no blank parts is one word, though its looks differ.
    private static IEnumerable<(List<Span> Pieces, bool BlankBefore)> Words(IEnumerable<Span> spans)
    {
        List<Span> word = [];
        var (blank, next) = (false, false);
        foreach (var span in spans)
        {
            var parts = span.Text.Split(' ');
            for (var i = 0; i < parts.Length; i++)
            {
                if (i > 0)
                {
                    if (word.Count > 0)
                    {
                        yield return (word, blank);
                        word = [];
                    }

                    next = true;
                }

                if (parts[i].Length == 0) continue;
                if (word.Count == 0) (blank, next) = (next, false);
                word.Add(span with { Text = parts[i] });
            }
        }

        if (word.Count > 0) yield return (word, blank);
    }
}
