using System.Collections.Immutable;

namespace PatternKit.Foundry.Reading;

/// <summary>
/// Takes fields out of one row of a table by name. <see cref="Finish"/> refuses what nobody asked for,
/// so that the known keys are exactly those that the reading code names.
/// </summary>
/// <param name="table">Name of the table file, for messages.</param>
/// <param name="row">Name of the row, for messages.</param>
/// <param name="map">The row.</param>
/// <param name="sources">What the source column may hold.</param>
internal sealed class RowReader(string table, string row, TomlMap map, SourceColumn sources)
{
    private readonly List<string> _asked = [];

    public TableException Error(string problem, int? line = null) => new(table, row, line ?? map.Line, problem);

    /// <summary>Line of a field; null where there is none.</summary>
    public int? LineOf(string key) => map.Find(key)?.Line;

    public bool Has(string key)
    {
        _asked.Add(key);
        return map.Find(key) is not null;
    }

    public string Text(string key) => Find(key) switch
    {
        TomlText { Value: var text } when !string.IsNullOrWhiteSpace(text) => text,
        TomlText t => throw Error($"'{key}' is empty.", t.Line),
        var other => throw Wrong(key, other, "text in quotes"),
    };

    public string TextOr(string key, string fallback) => Has(key) ? Text(key) : fallback;

    public double Number(string key, double low, double high)
    {
        if (Find(key) is not TomlNumber number)
            throw Wrong(key, map.Find(key), "a number");
        return number.Value >= low && number.Value <= high
            ? number.Value
            : throw Error($"'{key}' is {Shown.Number(number.Value)}; expected {Shown.Number(low)} to {Shown.Number(high)}.", number.Line);
    }

    public int Whole(string key, int low, int high)
    {
        var number = Number(key, low, high);
        return number == Math.Floor(number) ? (int)number : throw Error($"'{key}' must be a whole number.", map.Find(key)?.Line);
    }

    public bool FlagOr(string key, bool fallback)
    {
        if (!Has(key))
            return fallback;
        return map.Find(key) is TomlFlag flag ? flag.Value : throw Wrong(key, map.Find(key), "true or false");
    }

    public ImmutableArray<string> TextsOrNone(string key)
    {
        if (!Has(key))
            return [];
        if (map.Find(key) is not TomlList list)
            throw Wrong(key, map.Find(key), "a list of texts");
        return [.. list.Items.Select(item => item is TomlText { Value.Length: > 0 } t ? t.Value : throw Wrong(key, item, "a list of texts"))];
    }

    public ImmutableArray<double> Numbers(string key, double low, double high)
    {
        if (Find(key) is not TomlList list)
            throw Wrong(key, map.Find(key), "a list of numbers");
        return [.. list.Items.Select(item => item is TomlNumber n && n.Value >= low && n.Value <= high
            ? n.Value
            : throw Wrong(key, item, $"numbers from {Shown.Number(low)} to {Shown.Number(high)}"))];
    }

    /// <summary>One of a few words.</summary>
    public T Choice<T>(string key, IReadOnlyDictionary<string, T> words)
    {
        var word = Text(key);
        if (words.TryGetValue(word, out var value))
            return value;
        var hint = NearestName.Of(word, words.Keys)[0];
        throw Error($"'{key}' is \"{Shown.Short(word)}\"; did you mean \"{hint}\"? Known: {string.Join(", ", words.Keys)}.", map.Find(key)?.Line);
    }

    /// <summary>A table, or a list of tables, under a key.</summary>
    public ImmutableArray<RowReader> Rows(string key) => Find(key) switch
    {
        TomlMap one => [Inner(key, one)],
        TomlList { Items.Length: > 0 } list => [.. list.Items.Select((item, i) => item is TomlMap m
            ? Inner(FormattableString.Invariant($"{key}[{i + 1}]"), m)
            : throw Wrong(key, item, "a table"))],
        var other => throw Wrong(key, other, "a table or a list of tables"),
    };

    public RowReader Row(string key) => Find(key) is TomlMap one ? Inner(key, one) : throw Wrong(key, map.Find(key), "a table");

    /// <summary>The columns source, basis, others and why.</summary>
    public Provenance Provenance()
    {
        var source = Has("source") || sources.LeftOut is null ? Source() : sources.LeftOut.Source;
        ImmutableArray<OtherFigure> others = Has("others") ? [.. Rows("others").Select(Other)] : [];
        return new Provenance(source, BasisOr(), others, TextOr("why", ""));
    }

    private string Source()
    {
        var name = Text("source");
        if (sources.Known is not { } known || known.ContainsKey(name)) return name;
        throw Error($"the source '{Shown.Short(name)}' is not in sources.toml; nearest known: {NearestName.Of(name, known.Keys)[0]}.", LineOf("source"));
    }

    private Basis BasisOr() => Has("basis") || sources.LeftOut is null ? Choice("basis", BasisWords) : sources.LeftOut.Basis;

    private static OtherFigure Other(RowReader row)
    {
        var other = new OtherFigure(row.Source(), row.Text("says"), row.BasisOr());
        row.Finish();
        return other;
    }

    /// <summary>A number with its provenance, the whole of this row.</summary>
    public Quoted Quoted(string key, double low, double high)
    {
        var quoted = new Quoted(Number(key, low, high), TextOr("printed", ""), Provenance());
        Finish();
        return quoted;
    }

    /// <summary>Refuses fields that nothing asked for, with the nearest known one.</summary>
    public void Finish()
    {
        foreach (var field in map.Fields)
        {
            if (_asked.Contains(field.Key))
                continue;
            var hint = NearestName.Of(field.Key, _asked.Distinct());
            throw Error($"unknown key '{Shown.Short(field.Key)}'; {(hint.IsEmpty ? "none is known here" : $"did you mean '{hint[0]}'")}?", field.Line);
        }
    }

    private static readonly Dictionary<string, Basis> BasisWords = new(StringComparer.Ordinal)
    {
        ["read"] = Basis.Read,
        ["memory"] = Basis.Memory,
        ["common practice"] = Basis.CommonPractice,
        ["shop"] = Basis.Shop,
    };

    private RowReader Inner(string key, TomlMap inner) => new(inner.Origin?.File ?? table, $"{row}.{key}", inner, inner.Origin?.Sources ?? sources);

    private TomlNode Find(string key)
    {
        _asked.Add(key);
        return map.Find(key) ?? throw Missing(key);
    }

    /// <summary>A missing key is often a mistyped one: say so when something unasked resembles it.</summary>
    private TableException Missing(string key)
    {
        var unasked = map.Fields.FirstOrDefault(f => !_asked.Contains(f.Key) && NearestName.Near(f.Key, key));
        return unasked is null
            ? Error($"'{key}' is missing.")
            : Error($"unknown key '{Shown.Short(unasked.Key)}'; did you mean '{key}'?", unasked.Line);
    }

    private TableException Wrong(string key, TomlNode? found, string expected) =>
        Error($"'{key}' is {found?.Kind ?? "missing"}; expected {expected}.", found?.Line);
}
