namespace PatternKit.Exchange.Dxf;

/// <summary>Counts what is left out, by kind and reason, so that each is told once with its number and first line.</summary>
internal sealed class OmissionTally
{
    private readonly Dictionary<(string Type, string Reason), (int Count, int Line)> _counts = [];
    private readonly List<(string Type, string Reason)> _order = [];

    /// <summary>Counts one entity left out.</summary>
    public void Add(DxfRecord entity, string reason)
    {
        var key = (entity.Type, reason);
        if (_counts.TryGetValue(key, out var found))
        {
            _counts[key] = (found.Count + 1, found.Line);
            return;
        }

        _counts[key] = (1, entity.Line);
        _order.Add(key);
    }

    /// <summary>One note for each kind and reason, in order of appearance.</summary>
    public IEnumerable<ReadNote> Notes(string source) =>
        _order.Select(key => new ReadNote(source, _counts[key].Line, $"{_counts[key].Count} {Name(key.Type)} not read: {key.Reason} (first at line {_counts[key].Line})."));

    // The type comes from the file.
    private static string Name(string type) =>
        new([.. type.Take(40).Select(c => char.IsAsciiLetterOrDigit(c) || c is '_' or '-' ? c : '?')]);
}
