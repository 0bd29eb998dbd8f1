using System.Collections.Immutable;
using Tomlyn;
using Tomlyn.Parsing;

namespace PatternKit.Foundry.Reading;

/// <summary>
/// Reads TOML text into nodes that remember their lines. Guarantees: no key twice in one table, bounded length
/// and depth, finite numbers only. Anything else is a <see cref="TableException"/> with the line.
/// </summary>
internal static class TomlDocument
{
    /// <summary>Longest text accepted, in characters; a table of a thousand alloys stays below.</summary>
    private const int MaxLength = 1 << 20;

    private const int MaxDepth = 12;

    public static TomlMap Parse(string text, string sourceName)
    {
        if (text.Length > MaxLength)
            throw new TableException(sourceName, null, null, $"too long: {text.Length} characters, at most {MaxLength} are read.");
        var options = new TomlSerializerOptions { SourceName = sourceName, MaxDepth = MaxDepth };
        try
        {
            // The strict pass finds keys and tables defined twice; the event pass gives values with lines.
            SyntaxParser.ParseStrict(TomlLexer.Create(text, sourceName), options, true);
            var parser = TomlParser.Create(text, options);
            while (parser.MoveNext())
            {
                if (parser.Current.Kind == TomlParseEventKind.StartTable)
                    return new Builder(parser, sourceName).Map(1);
            }
            return new TomlMap(1, []);
        }
        catch (TomlException e)
        {
            var said = e.Diagnostics.Count > 0 ? e.Diagnostics[0].Message : e.Message;
            throw new TableException(sourceName, null, e.Line, $"not valid TOML: {said}", e);
        }
    }

    private sealed class Builder(TomlParser parser, string sourceName)
    {
        public TomlMap Map(int line)
        {
            var keys = new List<string>();
            var values = new Dictionary<string, TomlField>(StringComparer.Ordinal);
            while (Next().Kind != TomlParseEventKind.EndTable)
            {
                var key = parser.GetPropertyName();
                var keyLine = parser.Current.Line > 0 ? parser.Current.Line : line;
                Next();
                var value = Value(keyLine);
                if (values.TryGetValue(key, out var earlier))
                {
                    values[key] = earlier with { Value = Join(key, earlier.Value, value) };
                    continue;
                }
                keys.Add(key);
                values.Add(key, new TomlField(key, keyLine, value));
            }
            return new TomlMap(line, [.. keys.Select(k => values[k])]);
        }

        private TomlNode Value(int line)
        {
            var current = parser.Current;
            var at = current.Line > 0 ? current.Line : line;
            switch (current.Kind)
            {
                case TomlParseEventKind.StartTable:
                    return Map(at);
                case TomlParseEventKind.StartArray:
                    var items = ImmutableArray.CreateBuilder<TomlNode>();
                    while (Next().Kind != TomlParseEventKind.EndArray)
                        items.Add(Value(at));
                    return new TomlList(at, items.ToImmutable());
                case TomlParseEventKind.String:
                    return new TomlText(at, parser.GetString() ?? "");
                case TomlParseEventKind.Integer:
                    return new TomlNumber(at, current.GetInt64());
                case TomlParseEventKind.Float:
                    var number = current.GetDouble();
                    return double.IsFinite(number)
                        ? new TomlNumber(at, number)
                        : throw new TableException(sourceName, null, at, "inf and nan are not numbers that a table can hold.");
                case TomlParseEventKind.Boolean:
                    return new TomlFlag(at, current.GetBoolean());
                default:
                    return new TomlDate(at);
            }
        }

        /// <summary>A table whose sub-tables stand apart in the file is reported in pieces: put them together.</summary>
        private TomlNode Join(string key, TomlNode earlier, TomlNode later)
        {
            if (earlier is TomlList a && later is TomlList b)
                return a with { Items = a.Items.AddRange(b.Items) };
            if (earlier is not TomlMap first || later is not TomlMap second)
                throw new TableException(sourceName, null, later.Line, $"'{Shown.Short(key)}' is defined twice.");
            var fields = first.Fields;
            foreach (var field in second.Fields)
            {
                var same = fields.FirstOrDefault(f => f.Key == field.Key);
                fields = same is null
                    ? fields.Add(field)
                    : fields.Replace(same, same with { Value = Join(field.Key, same.Value, field.Value) });
            }
            return first with { Fields = fields };
        }

        private TomlParseEvent Next()
        {
            if (!parser.MoveNext())
                throw new TableException(sourceName, null, null, "the file ends inside a table.");
            return parser.Current;
        }
    }
}
