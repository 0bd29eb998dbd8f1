namespace PatternKit.Patterns.JobFile;

/// <summary>
/// The known word nearest to a mistyped one, by optimal string alignment: insertions, deletions, changes and
/// swaps of neighbours count one each (Damerau 1964). Case counts nothing.
/// </summary>
internal static class Nearest
{
    /// <summary>" Did you mean "x"?" followed by the whole list when it is short; the list alone when nothing is near.</summary>
    public static string Hint(string word, IEnumerable<string> known)
    {
        var list = known.Distinct(StringComparer.Ordinal).ToList();
        var shown = list.Count == 0 ? "" : $" Known here: {string.Join(", ", list.Take(24))}{(list.Count > 24 ? ", …" : "")}.";
        return To(word, list) is { } near ? $" Did you mean \"{near}\"?{shown}" : shown;
    }

    /// <summary>The nearest word, first come first when equal; null when the list is empty.</summary>
    public static string? To(string word, IReadOnlyList<string> known) =>
        known.Count == 0 ? null : known.MinBy(k => Distance(word, k));

    /// <summary>Number of single-letter edits; words are cut at 64 letters.</summary>
    public static int Distance(string a, string b)
    {
        a = Cut(a);
        b = Cut(b);
        var d = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++) d[i, 0] = i;
        for (var j = 0; j <= b.Length; j++) d[0, j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            for (var j = 1; j <= b.Length; j++)
            {
                var change = a[i - 1] == b[j - 1] ? 0 : 1;
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + change);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
            }
        }

        return d[a.Length, b.Length];
    }

    private static string Cut(string s) => (s.Length > 64 ? s[..64] : s).ToUpperInvariant();
}
