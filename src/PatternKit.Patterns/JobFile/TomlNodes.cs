using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>A TOML value and the line (from 1) that it starts on.</summary>
internal abstract record TomlNode(int Line)
{
    /// <summary>What a person would call the value, for messages.</summary>
    public abstract string Kind { get; }

    /// <summary>The value as far as it can be quoted in a message.</summary>
    public virtual string Quoted => Kind;
}

internal sealed record TomlText(int Line, string Value) : TomlNode(Line)
{
    public override string Kind => "text";

    public override string Quoted => $"\"{Show.Short(Value)}\"";
}

/// <summary>A number; <paramref name="Written"/> is its text, so that inches convert without a binary detour.</summary>
internal sealed record TomlNumber(int Line, double Value, string Written) : TomlNode(Line)
{
    public override string Kind => "a bare number";

    public override string Quoted => Show.Short(Written);
}

internal sealed record TomlFlag(int Line, bool Value) : TomlNode(Line)
{
    public override string Kind => "true or false";

    public override string Quoted => Value ? "true" : "false";
}

internal sealed record TomlDate(int Line) : TomlNode(Line)
{
    public override string Kind => "a date";
}

/// <summary>A list; <paramref name="OfHeaders"/> when it was written as [[name]] tables.</summary>
internal sealed record TomlList(int Line, ImmutableArray<TomlNode> Items, bool OfHeaders = false) : TomlNode(Line)
{
    public override string Kind => OfHeaders ? "a list of tables" : "a list";
}

internal sealed record TomlTable(int Line, ImmutableArray<TomlEntry> Entries) : TomlNode(Line)
{
    public override string Kind => "a table";
}

/// <summary>A key with its value and the line of the key.</summary>
internal sealed record TomlEntry(string Key, int Line, TomlNode Value);

/// <summary>Makes foreign text safe to print in one line.</summary>
internal static class Show
{
    /// <summary>At most forty characters, control characters replaced.</summary>
    public static string Short(string text)
    {
        var cut = text.Length > 40 ? string.Concat(text.AsSpan(0, 40), "…") : text;
        return string.Create(cut.Length, cut, (span, s) =>
        {
            for (var i = 0; i < s.Length; i++) span[i] = char.IsControl(s[i]) ? ' ' : s[i];
        });
    }
}
