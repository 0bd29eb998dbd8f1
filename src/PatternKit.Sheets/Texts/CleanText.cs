using System.Text;

namespace PatternKit.Sheets.Texts;

/// <summary>Makes text that a user typed, or a file held, fit to be written anywhere.</summary>
internal static class CleanText
{
    /// <summary>
    /// The text with every character that XML cannot hold, every control character and every override of the
    /// reading direction replaced by U+FFFD: these can break a file or make a line read as what it is not.
    /// </summary>
    public static string Of(string text)
    {
        var result = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
            result.Append(Fits(rune) ? rune : Rune.ReplacementChar);
        return result.ToString();
    }

    /// <summary>
    /// The name of a file without the folders of the machine that it was read on: a name that starts at a root or
    /// climbs out of its folder is cut to its last part.
    /// </summary>
    public static string FileName(string name)
    {
        var parts = name.Split('/', '\\');
        var local = parts[0].Length > 0 && !parts[0].Contains(':', StringComparison.Ordinal) && !parts.Contains("..");
        return Of(local ? string.Join('/', parts) : parts[^1]);
    }

    private static bool Fits(Rune rune) => rune.Value switch
    {
        '\t' or '\n' => true,
        < 0x20 or (>= 0x7F and < 0xA0) => false,
        (>= 0x202A and <= 0x202E) or (>= 0x2066 and <= 0x2069) => false,
        0xFFFE or 0xFFFF => false,
        _ => true,
    };
}
