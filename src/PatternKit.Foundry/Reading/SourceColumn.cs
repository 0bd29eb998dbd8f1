using System.Collections.Immutable;

namespace PatternKit.Foundry.Reading;

/// <summary>What the source column of a file's rows may hold.</summary>
/// <param name="LeftOut">Taken for rows without the column; null where it must be there.</param>
/// <param name="Known">Sources that rows may name; null where any text will do.</param>
internal sealed record SourceColumn(Provenance? LeftOut, ImmutableDictionary<string, SourceRow>? Known)
{
    /// <summary>Of a shop file: the file itself is the source, where a row names no other.</summary>
    public static SourceColumn Shop(string text) => new(new Provenance(text, Basis.Shop, [], ""), null);

    /// <summary>A shop file as a source is printed on sheets that others read: without the folders of whoever made them.</summary>
    public static string FileName(string path) => path[(path.LastIndexOfAny(['/', '\\']) + 1)..];

    /// <summary>Of the built-in tables: every row names one of these.</summary>
    public static SourceColumn BuiltIn(ImmutableDictionary<string, SourceRow> known) => new(null, known);

    /// <summary>Of tables that name no sources.</summary>
    public static SourceColumn None { get; } = new(null, null);
}
