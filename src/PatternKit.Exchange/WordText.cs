using System.Globalization;
using System.Text;

namespace PatternKit.Exchange;

/// <summary>Words of a text file of meshes, kept as bytes: numbers read, and words shown in messages.</summary>
internal static class WordText
{
    /// <summary>Blank, tab and the line ends.</summary>
    public static bool IsSpace(byte b) => b is (byte)' ' or (>= 9 and <= 13);

    /// <summary>The word as a coordinate.</summary>
    /// <exception cref="InputException">No number, not finite, or beyond <see cref="MeshLimits.LargestCoordinate"/>.</exception>
    public static double Coordinate(ReadOnlySpan<byte> word, string source, int line)
    {
        if (!double.TryParse(word, NumberStyles.Float, CultureInfo.InvariantCulture, out var x))
            throw Bad($"expected a number, found {Show(word)}.{(word.Contains((byte)',') ? " Numbers need a decimal point, not a comma." : "")}");
        if (!double.IsFinite(x)) throw Bad($"{Show(word)} is not a finite number. Export the part again.");
        return Math.Abs(x) <= MeshLimits.LargestCoordinate ? x : throw Bad($"the coordinate {Show(word)} is beyond 1e9.");

        InputException Bad(string problem) => new(source, string.Create(CultureInfo.InvariantCulture, $"line {line}"), problem);
    }

    /// <summary>The word in quotation marks, shortened, with nothing in it that a terminal would obey.</summary>
    public static string Show(ReadOnlySpan<byte> word)
    {
        if (word.IsEmpty) return "the end of the file";
        var text = new StringBuilder("\"");
        foreach (var b in word[..Math.Min(word.Length, 24)]) text.Append(b is >= 32 and < 127 ? (char)b : '?');
        return text.Append(word.Length > 24 ? "…\"" : "\"").ToString();
    }
}
