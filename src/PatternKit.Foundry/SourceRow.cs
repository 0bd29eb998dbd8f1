using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A source that rows of the tables name. Reports print its name; the address stays in the table.</summary>
/// <param name="Name">As rows name it.</param>
/// <param name="Author">Who wrote it, or the body that published it.</param>
/// <param name="Title">Of the work or page.</param>
/// <param name="Address">Where it was read, or one of <see cref="WithoutAddress"/>.</param>
public sealed record SourceRow(string Name, string Author, string Title, string Address)
{
    /// <summary>What stands in place of an address: of a work whose address is not known, of handbooks in general, of rules of thumb.</summary>
    public static ImmutableArray<string> WithoutAddress { get; } = ["no public address known", "from memory", "common practice"];

    internal static ImmutableDictionary<string, SourceRow> Read(RowReader file)
    {
        var rows = ImmutableDictionary.CreateBuilder<string, SourceRow>(StringComparer.Ordinal);
        foreach (var r in file.Rows("source"))
        {
            var row = new SourceRow(r.Text("name"), r.Text("author"), r.Text("title"), r.Text("address"));
            r.Finish();
            if (!WithoutAddress.Contains(row.Address) && !row.Address.StartsWith("https://", StringComparison.Ordinal))
                throw r.Error($"'address' is neither an address nor one of: {string.Join(", ", WithoutAddress)}.", r.LineOf("address"));
            if (!rows.TryAdd(row.Name, row)) throw r.Error($"the source '{Shown.Short(row.Name)}' stands here twice.", r.LineOf("name"));
        }

        file.Finish();
        return rows.ToImmutable();
    }
}
