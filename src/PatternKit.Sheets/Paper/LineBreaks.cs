using System.Collections.Immutable;

namespace PatternKit.Sheets.Paper;

/// <summary>Breaks text into lines at blanks, and where a word is longer than a line, within it.</summary>
internal static class LineBreaks
{
    /// <summary>The lines, none wider than asked unless one character is.</summary>
    /// <param name="text">One paragraph; a no-break space holds words together.</param>
    /// <param name="width">Of a line.</param>
    /// <param name="measure">Width of a text, in the same unit.</param>
    public static ImmutableArray<string> Of(string text, double width, Func<string, double> measure)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (measure(longer) <= width)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0) lines.Add(line);
            line = word;
            while (measure(line) > width && line.Length > 1)
            {
                var keep = Fitting(line, width, measure);
                lines.Add(line[..keep]);
                line = line[keep..];
            }
        }

        if (line.Length > 0) lines.Add(line);
        return lines.ToImmutable();
    }

    /// <summary>How many characters of a word fit, at least one; both halves of a pair stay together.</summary>
    public static int Fitting(string word, double width, Func<string, double> measure)
    {
        var (good, bad) = (1, word.Length);
        while (bad - good > 1)
        {
            var middle = (good + bad) / 2;
            if (measure(word[..middle]) <= width) good = middle;
            else bad = middle;
        }

        return good < word.Length && char.IsLowSurrogate(word[good]) ? Math.Max(good - 1, char.IsHighSurrogate(word[0]) ? 2 : 1) : good;
    }
}
