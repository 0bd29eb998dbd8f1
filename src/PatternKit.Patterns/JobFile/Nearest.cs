using PatternKit.Foundry;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Hints at the known word nearest to a mistyped one, as the tables find it (<see cref="NearestName"/>).
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
    public static string? To(string word, IReadOnlyList<string> known) => NearestName.Of(word, known).FirstOrDefault();
}
