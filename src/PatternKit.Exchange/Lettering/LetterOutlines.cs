using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using NetTopologySuite.Operation.OverlayNG;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using SkiaSharp;

namespace PatternKit.Exchange.Lettering;

/// <summary>A line of text as a plan region.</summary>
/// <param name="Region">The letters; the line starts at the origin, its baseline is the x axis, y is up; mm.</param>
/// <param name="Advance_mm">Where a further letter would start; slightly more than the ink.</param>
/// <param name="Missing">Characters that the typeface lacks, as “漢 (U+6F22)”, each once, in order; they take no room.</param>
public sealed record LetteredLine(PlanRegion Region, double Advance_mm, ImmutableArray<string> Missing);

/// <summary>Turns text into outlines of the built-in typeface (<see cref="LetterFont"/>).</summary>
public static class LetterOutlines
{
    /// <summary>
    /// A usual chord tolerance as a part of the height of a capital: a tenth of a millimetre on letters of 7 mm, a fifth of what a nozzle can draw.
    /// </summary>
    public const double ChordOfHeight = 0.015;

    private static readonly Lazy<SKTypeface> Regular = new(() => Load(LetterWeight.Regular));
    private static readonly Lazy<SKTypeface> SemiBold = new(() => Load(LetterWeight.SemiBold));

    /// <summary>
    /// The outlines of one line, letters set by their own widths, left to right, without kerning or ligatures.
    /// An accent that is a character of its own (U+0301 after e, instead of é) counts as missing.
    /// </summary>
    /// <param name="text">One line; a line end or tab is a missing character.</param>
    /// <param name="capHeight_mm">Height of the capital H.</param>
    /// <param name="chordTolerance_mm">Largest distance of a chord from its curve.</param>
    /// <param name="weight">How heavy.</param>
    /// <param name="spacing_mm">Added between letters: sand between letters needs width.</param>
    /// <exception cref="ArgumentOutOfRangeException">A height or tolerance that is not positive, a spacing that is not finite.</exception>
    public static LetteredLine Of(
        string text, double capHeight_mm, double chordTolerance_mm, LetterWeight weight = LetterWeight.SemiBold, double spacing_mm = 0)
    {
        if (!(capHeight_mm > 0 && double.IsFinite(capHeight_mm))) throw new ArgumentOutOfRangeException(nameof(capHeight_mm));
        if (!(chordTolerance_mm > 0)) throw new ArgumentOutOfRangeException(nameof(chordTolerance_mm));
        if (!double.IsFinite(spacing_mm)) throw new ArgumentOutOfRangeException(nameof(spacing_mm));

        // The font engine takes outlines at 64 units an em whatever the size, in steps of 1/64: 1/8192 em at most is lost,
        // 0.0002 of the cap height. Widths come to 2 in a million (16.16 fixed point).
        var typeface = (weight == LetterWeight.Regular ? Regular : SemiBold).Value;
        using var font = new SKFont(typeface, typeface.UnitsPerEm) { Hinting = SKFontHinting.None, Subpixel = true };
        var scale = capHeight_mm / font.Metrics.CapHeight;

        var missing = ImmutableArray.CreateBuilder<string>();
        var letters = new List<NetTopologySuite.Geometries.Geometry>();
        var pen = 0.0;
        var first = true;
        foreach (var rune in text.EnumerateRunes())
        {
            var glyph = IsDrawable(rune) ? font.GetGlyph(rune.Value) : (ushort)0;
            if (glyph == 0)
            {
                var name = Name(rune);
                if (!missing.Contains(name)) missing.Add(name);
                continue;
            }

            if (!first) pen += spacing_mm;
            first = false;
            letters.Add(Placed(font, glyph, scale, pen, chordTolerance_mm).Geometry);
            pen += scale * font.GetGlyphWidths([glyph])[0];
        }

        return new(PlanRegion.From(OverlayNGRobust.Union(letters)), pen, missing.ToImmutable());
    }

    private static SKTypeface Load(LetterWeight weight)
    {
        using var stream = LetterFont.Open(weight);
        return SKTypeface.FromStream(stream) ?? throw new InvalidOperationException("The built-in typeface does not load.");
    }

    private static PlanRegion Placed(SKFont font, ushort glyph, double scale, double pen, double chordTolerance_mm)
    {
        using var path = font.GetGlyphPath(glyph);
        if (path is null || path.IsEmpty) return PlanRegion.Empty;
        var contours = GlyphContours.Flatten(path, chordTolerance_mm / scale)
            .Select(contour => contour.Select(p => new Vec2(pen + (scale * p.X), scale * p.Y)).ToArray());
        return NonZeroWinding.Region([.. contours]);
    }

    // Marks that need placing over the letter before, and invisible controls, would come out wrong or as nothing.
    private static bool IsDrawable(Rune rune) => rune != Rune.ReplacementChar && Rune.GetUnicodeCategory(rune) is not
        (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark
        or UnicodeCategory.SpacingCombiningMark or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator);

    private static string Name(Rune rune)
    {
        var number = string.Create(CultureInfo.InvariantCulture, $"U+{rune.Value:X4}");
        return IsDrawable(rune) ? $"{rune} ({number})" : number;
    }
}
