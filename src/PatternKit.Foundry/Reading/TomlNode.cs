using System.Collections.Immutable;

namespace PatternKit.Foundry.Reading;

/// <summary>A value of a TOML document that remembers its line.</summary>
/// <param name="Line">Counted from 1; the key's line for tables and arrays.</param>
internal abstract record TomlNode(int Line)
{
    /// <summary>What messages call it.</summary>
    public abstract string Kind { get; }
}

internal sealed record TomlText(int Line, string Value) : TomlNode(Line)
{
    public override string Kind => "text";
}

internal sealed record TomlNumber(int Line, double Value) : TomlNode(Line)
{
    public override string Kind => "a number";
}

internal sealed record TomlFlag(int Line, bool Value) : TomlNode(Line)
{
    public override string Kind => "true or false";
}

internal sealed record TomlDate(int Line) : TomlNode(Line)
{
    public override string Kind => "a date";
}

internal sealed record TomlList(int Line, ImmutableArray<TomlNode> Items) : TomlNode(Line)
{
    public override string Kind => "a list";
}

/// <param name="Line">Line of its header or key.</param>
/// <param name="Fields">In the order of the file.</param>
internal sealed record TomlMap(int Line, ImmutableArray<TomlField> Fields) : TomlNode(Line)
{
    public override string Kind => "a table";

    /// <summary>The shop file whose values are in it; null for a table as its file has it.</summary>
    public TomlOrigin? Origin { get; init; }

    public TomlNode? Find(string key) => Fields.FirstOrDefault(f => f.Key == key)?.Value;
}

internal sealed record TomlField(string Key, int Line, TomlNode Value);

/// <param name="File">Name of the shop file, for messages.</param>
/// <param name="Sources">What its source column may hold.</param>
internal sealed record TomlOrigin(string File, SourceColumn Sources);
