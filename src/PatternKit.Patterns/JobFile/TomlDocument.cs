using System.Collections.Immutable;
using PatternKit.Exchange;
using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads TOML text into <see cref="TomlNode"/>s that know their lines. Syntax, duplicate keys and the
/// depth of nesting (64) are checked by the TOML library.
/// </summary>
internal static class TomlDocument
{
    /// <summary>The whole document as one table.</summary>
    /// <exception cref="InputException">The text is not TOML; the message has the line.</exception>
    public static TomlTable Parse(string text, string source)
    {
        DocumentSyntax document;
        try
        {
            document = SyntaxParser.Parse(text, source, true);
        }
        catch (TomlException e)
        {
            throw new InputException(source, e.Line is { } line ? $"line {line}" : "", $"this is not TOML that can be read: {Show.Short(e.Message)}");
        }

        foreach (var d in document.Diagnostics)
            if (d.Kind == DiagnosticMessageKind.Error)
                throw new InputException(source, $"line {LineOf(d.Span)}", $"this is not TOML: {Tidy(d.Message)}. Text and quantities with units stand in quotes, such as \"1/2 in\".");

        var root = new Branch(1);
        foreach (var pair in document.KeyValues) Add(root, pair, source);
        foreach (var table in document.Tables)
        {
            if (table.Name is null) continue;
            var path = Keys(table.Name);
            var at = LineOf(table.Span);
            var branch = root;
            for (var i = 0; i < path.Count - 1; i++) branch = branch.Child(path[i], at, source);
            branch = table is TableArraySyntax ? branch.NewItem(path[^1], at, source) : branch.Child(path[^1], at, source);
            foreach (var pair in table.Items) Add(branch, pair, source);
        }

        return root.Freeze();
    }

    private static void Add(Branch branch, KeyValueSyntax pair, string source)
    {
        if (pair.Key is null || pair.Value is null) return;
        var path = Keys(pair.Key);
        var line = LineOf(pair.Span);
        for (var i = 0; i < path.Count - 1; i++) branch = branch.Child(path[i], line, source);
        branch.Set(path[^1], line, Value(pair.Value, source), source);
    }

    private static TomlNode Value(ValueSyntax value, string source)
    {
        var line = LineOf(value.Span);
        switch (value)
        {
            case StringValueSyntax s:
                return new TomlText(line, s.Value ?? "");
            case IntegerValueSyntax i:
                return new TomlNumber(line, i.Value, (i.Token?.Text ?? "").Replace("_", "", StringComparison.Ordinal));
            case FloatValueSyntax f:
                return new TomlNumber(line, f.Value, (f.Token?.Text ?? "").Replace("_", "", StringComparison.Ordinal));
            case BooleanValueSyntax b:
                return new TomlFlag(line, b.Value);
            case ArraySyntax a:
                return new TomlList(line, [.. a.Items.Where(x => x.Value is not null).Select(x => Value(x.Value!, source))]);
            case InlineTableSyntax t:
                var branch = new Branch(line);
                foreach (var item in t.Items)
                    if (item.KeyValue is { } pair)
                        Add(branch, pair, source);
                return branch.Freeze();
            default:
                return new TomlDate(line);
        }
    }

    private static List<string> Keys(KeySyntax key)
    {
        var path = new List<string> { Name(key.Key) };
        foreach (var dotted in key.DotKeys) path.Add(Name(dotted.Key));
        return path;
    }

    private static string Name(BareKeyOrStringValueSyntax? key) => key switch
    {
        BareKeySyntax bare => bare.Key?.Text ?? "",
        StringValueSyntax quoted => quoted.Value ?? "",
        _ => "",
    };

    private static int LineOf(SourceSpan span) => span.Start.Line + 1;

    private static string Tidy(string message)
    {
        var one = message.ReplaceLineEndings(" ").TrimEnd('.', ' ');
        return one.Length > 160 ? one[..160] + "…" : one;
    }

    /// <summary>A table under construction: headers and dotted keys may add to it from several places.</summary>
    private sealed class Branch(int line)
    {
        private readonly List<(string Key, int Line, object Value)> _entries = [];
        private readonly Dictionary<string, int> _index = [];

        public void Set(string key, int at, TomlNode value, string source)
        {
            if (!_index.TryAdd(key, _entries.Count)) throw Twice(key, at, source);
            _entries.Add((key, at, value));
        }

        public Branch Child(string key, int at, string source)
        {
            if (!_index.TryGetValue(key, out var i))
            {
                var child = new Branch(at);
                _index.Add(key, _entries.Count);
                _entries.Add((key, at, child));
                return child;
            }

            return _entries[i].Value switch
            {
                Branch b => b,
                List<Branch> { Count: > 0 } items => items[^1],
                _ => throw Twice(key, at, source),
            };
        }

        public Branch NewItem(string key, int at, string source)
        {
            var item = new Branch(at);
            if (_index.TryGetValue(key, out var i))
            {
                if (_entries[i].Value is not List<Branch> items) throw Twice(key, at, source);
                items.Add(item);
            }
            else
            {
                _index.Add(key, _entries.Count);
                _entries.Add((key, at, new List<Branch> { item }));
            }

            return item;
        }

        public TomlTable Freeze() => new(line, [.. _entries.Select(e => new TomlEntry(e.Key, e.Line, e.Value switch
        {
            Branch b => b.Freeze(),
            List<Branch> items => new TomlList(e.Line, [.. items.Select(x => (TomlNode)x.Freeze())], true),
            var node => (TomlNode)node,
        }))]);

        private static InputException Twice(string key, int at, string source) =>
            new(source, $"line {at}", $"\"{Show.Short(key)}\" is given twice; keep one.");
    }
}
