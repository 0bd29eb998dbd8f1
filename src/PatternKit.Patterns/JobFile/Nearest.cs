using PatternKit.Foundry;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// The known word nearest to a mistyped one. Case counts nothing.
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
    public static int Distance(string a, string b) => EditDistance.Between(Cut(a), Cut(b));

    private static string Cut(string s) => (s.Length > 64 ? s[..64] : s).ToUpperInvariant();
}
