namespace PatternKit.Patterns.JobFile;

/// <summary>
/// A table of the job whose keys have all been found known. Keys that belong to a later release, or
/// elsewhere, are refused with their own words.
/// </summary>
internal sealed class Section
{
    private readonly Dictionary<string, TomlEntry> _entries;

    private Section(TomlTable table, Dictionary<string, TomlEntry> entries)
    {
        Line = table.Line;
        _entries = entries;
    }

    /// <summary>Line that the table starts on.</summary>
    public int Line { get; }

    /// <summary>The entry of a key, null when left out.</summary>
    public TomlEntry? this[string key] => _entries.GetValueOrDefault(key);

    /// <summary>The keys that are there, in the order of the file.</summary>
    public IEnumerable<string> Keys => _entries.Keys;

    /// <summary>Opens a table.</summary>
    /// <param name="text">The job.</param>
    /// <param name="table">The table.</param>
    /// <param name="title">What to call it, such as "[pattern]".</param>
    /// <param name="known">Keys that it may have.</param>
    /// <param name="refused">Keys that are known but refused, and why.</param>
    public static Section Open(JobText text, TomlTable table, string title, IReadOnlyList<string> known, IReadOnlyDictionary<string, string>? refused = null)
    {
        var entries = new Dictionary<string, TomlEntry>(StringComparer.Ordinal);
        foreach (var entry in table.Entries)
        {
            if (refused is not null && refused.TryGetValue(entry.Key, out var why))
                throw text.Refuse(entry.Line, $"\"{entry.Key}\" in {title}: {why}");
            if (!known.Contains(entry.Key))
                throw text.Refuse(entry.Line, $"unknown key \"{Show.Short(entry.Key)}\" in {title}.{Nearest.Hint(entry.Key, known)}");
            entries.Add(entry.Key, entry);
        }

        return new(table, entries);
    }

    /// <summary>Opens a value that has to be a table.</summary>
    public static Section Open(JobText text, TomlEntry entry, string title, IReadOnlyList<string> known, string example, IReadOnlyDictionary<string, string>? refused = null) =>
        entry.Value is TomlTable table
            ? Open(text, table, title, known, refused)
            : throw text.Refuse(entry.Value.Line, $"{title} is {entry.Value.Kind}; write {example}.");
}
