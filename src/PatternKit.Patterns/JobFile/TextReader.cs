using System.Collections.Immutable;
using PatternKit.Exchange.Lettering;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>text = "PUMP No 2"</c> with <c>at</c> (the middle of the line, half way up its capitals), <c>size</c> (height of the capitals)
/// and <c>turn</c>: letters of the built-in typeface, raised or sunk, on the top or the underside of the parts before it.
/// </summary>
internal static class TextReader
{
    private const int Longest = 200;

    /// <summary>The feature with its loops and lettering.</summary>
    /// <param name="text">The job.</param>
    /// <param name="section">The [[part]] table.</param>
    /// <param name="written">The entry of the text.</param>
    /// <param name="blank">The feature as far as it is read: name, heights, cut.</param>
    /// <param name="before">The features that the letters stand on or are cut into.</param>
    public static Feature Read(JobText text, Section section, TomlEntry written, Feature blank, ImmutableArray<Feature> before)
    {
        var line = Values.Line(text, written, Longest);
        var size_mm = section["size"] is { } size
            ? Values.Size(text, size.Value, "size (height of the capitals)")
            : throw text.Refuse(section.Line, "this text has no size; write the height of its capitals, such as size = 8.");
        var at = section["at"] is { } place ? Values.Point(text, place.Value, "at") : default;
        var turn = section["turn"] is { } angle ? Values.Angle(text, angle.Value, "turn") : 0;
        if (blank.Cut is not (CutKind.None or CutKind.Drawn))
            throw text.Refuse(section["cut"]!.Value.Line, "text can be raised, or sunk with cut = \"drawn\"; what is engraved or cast later is no work of the pattern. Take the part out.");
        if (before.IsEmpty) throw text.Refuse(section.Line, "the first [[part]] is text, but there is no metal yet for it to stand on; put it after the part that carries it.");

        var set = LetterOutlines.Of(line, size_mm, size_mm * LetterOutlines.ChordOfHeight);
        if (!set.Missing.IsEmpty)
            throw text.Refuse(written.Value.Line, $"the typeface lacks {string.Join(", ", set.Missing.Take(10))}; write the text with other characters.");
        if (set.Region.IsEmpty) throw text.Refuse(written.Value.Line, "the text shows nothing; write letters.");

        var centred = set.Region.Transformed(1, 0, new(-set.Advance_mm / 2, -size_mm / 2));
        Feature Put(TextSide side) => blank with
        {
            Loops = [.. centred.Transformed(1, turn, at, mirrored: side == TextSide.Underside).Rings().Select(r => Loop(r.AsSpan()))],
            Text = new(line, size_mm, side),
        };

        // Mirrored, letters stand elsewhere: each way is held against the metal below or above it.
        var (top, under) = (Put(TextSide.Top), Put(TextSide.Underside));
        var (onTop, below) = (TextGround.Problem(top, before), TextGround.Problem(under, before));
        if (onTop is not null && below is not null)
            throw text.Refuse(section.Line, $"{blank.Name}: {onTop} {(blank.Cut == CutKind.None
                ? "Raised text begins in the metal, or on it, and reaches above it, or from the underside below it"
                : "Sunk text begins in the metal and opens above it, or on the underside below it")}; correct z or at.");
        var placed = onTop is null ? top : under;
        if (LoopRules.Problem(placed.Loops, mm => Values.LengthText(text, mm)) is { } problem) throw text.Refuse(written.Value.Line, $"text: {problem}");
        return placed;
    }

    private static PlanPath Loop(ReadOnlySpan<Vec2> ring)
    {
        var loop = PlanPath.Polygon(ring);
        return loop.SignedArea() >= 0 ? loop : loop.Reversed();
    }
}
