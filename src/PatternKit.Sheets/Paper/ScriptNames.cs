using System.Globalization;
using System.Text;

namespace PatternKit.Sheets.Paper;

/// <summary>Names of scripts that the typeface may lack, by the blocks of the Unicode Standard.</summary>
internal static class ScriptNames
{
    private static readonly (int First, int Last, string Name)[] Blocks =
    [
        (0x0530, 0x058F, "Armenian"), (0x0590, 0x05FF, "Hebrew"), (0x0600, 0x077F, "Arabic"), (0x0900, 0x097F, "Devanagari"), (0x0980, 0x09FF, "Bengali"),
        (0x0A00, 0x0DFF, "Indic"), (0x0E00, 0x0E7F, "Thai"), (0x10A0, 0x10FF, "Georgian"), (0x1100, 0x11FF, "Hangul"), (0x1200, 0x137F, "Ethiopic"),
        (0x3040, 0x309F, "Hiragana"), (0x30A0, 0x30FF, "Katakana"), (0x2E80, 0x2FDF, "Han"), (0x3400, 0x9FFF, "Han"), (0xAC00, 0xD7AF, "Hangul"), (0xF900, 0xFAFF, "Han"),
        (0x20000, 0x323AF, "Han"),
    ];

    /// <summary>A run of characters told by the name of their script and their numbers: "[Han U+6CF5 U+623F]".</summary>
    public static string Told(IReadOnlyList<Rune> missing)
    {
        var name = Array.Find(Blocks, b => missing[0].Value >= b.First && missing[0].Value <= b.Last).Name ?? "sign";
        return $"[{name} {string.Join(' ', missing.Select(r => "U+" + r.Value.ToString("X4", CultureInfo.InvariantCulture)))}]";
    }
}
