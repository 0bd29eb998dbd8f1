using System.Text.Json.Nodes;
using PatternKit.Foundry;
using Spectre.Console;

namespace PatternKit.Cli.Output;

/// <summary>One value of a trade table.</summary>
/// <param name="Key">For scripts, with the unit in it.</param>
/// <param name="Label">For people.</param>
/// <param name="Value">In <paramref name="Unit"/>.</param>
/// <param name="Unit">For people.</param>
/// <param name="Printed">As the source prints it, where it was converted or chosen.</param>
/// <param name="From">Where it comes from.</param>
/// <param name="UpTo_mm">Largest size of the casting that it holds for, null where size does not count.</param>
internal sealed record ValueRow(string Key, string Label, double Value, string Unit, string Printed, Provenance From, double? UpTo_mm = null)
{
    public static ValueRow Of(string key, string label, string unit, Quoted q) => new(key, label, q.Value, unit, q.Printed, q.From);
}

/// <summary>The values of one alloy or sand.</summary>
internal sealed record ValueRows(string Key, string Title, IReadOnlyList<string> Aliases, IReadOnlyList<ValueRow> Rows, Hazard? Hazard = null);

/// <summary>Writes trade tables with the source of every value.</summary>
internal static class ValueTable
{
    /// <summary>A table for people, or a list for scripts.</summary>
    public static void Write(Terminal terminal, bool json, string what, IEnumerable<ValueRows> all)
    {
        if (json)
        {
            terminal.Results.WriteLine(JsonText.Of(JsonText.List(all.Select(Json))));
            return;
        }

        var table = new Table().Border(TableBorder.Simple).AddColumns(what, "value", "", "source");
        foreach (var item in all)
        {
            var names = JsonText.Words(item.Aliases).Count == 0 ? item.Title : $"{item.Title}; also {string.Join(", ", item.Aliases)}";
            table.AddRow(new Text(item.Key), new Text(""), new Text(""), new Text(names));
            foreach (var (r, next) in item.Rows.Zip(item.Rows.Skip(1).Append(null)))
            {
                table.AddRow(new Text(item.Key), new Text(r.Label), new Text($"{FindingText.Number(r.Value)} {r.Unit}"), new Text(Source(r)));
                // Values of one row stand together: what others say of them comes once.
                if (!ReferenceEquals(r.From, next?.From)) Dispute(table, item.Key, r.From);
            }

            if (item.Hazard is { } h)
                table.AddRow(new Text(item.Key), new Text(h.MustAcknowledge ? "■ hazard, to be acknowledged" : "▲ hazard"), new Text(""), new Text($"{h.Text} [{h.From.Text}]"));
        }

        terminal.Write(table);
    }

    private static void Dispute(Table table, string key, Provenance from)
    {
        foreach (var o in from.Others) table.AddRow(new Text(key), new Text("  elsewhere"), new Text(""), new Text(o.Text));
        if (from.Why.Length > 0) table.AddRow(new Text(key), new Text("  why this one"), new Text(""), new Text(from.Why));
    }

    private static string Source(ValueRow r) => r.Printed.Length == 0 ? r.From.Text : $"{r.From.Text}: {r.Printed}";

    private static JsonObject Json(ValueRows item) => new()
    {
        ["key"] = item.Key,
        ["title"] = item.Title,
        ["aliases"] = JsonText.Words(item.Aliases),
        ["values"] = JsonText.List(item.Rows.Select(r => new JsonObject
        {
            ["key"] = r.Key,
            ["value"] = Math.Round(r.Value, 9),
            ["up_to_mm"] = r.UpTo_mm is { } u && double.IsFinite(u) ? u : (double?)null,
            ["printed"] = r.Printed,
            ["source"] = r.From.Source,
            ["basis"] = Word(r.From.Basis),
            ["others"] = JsonText.List(r.From.Others.Select(o => new JsonObject { ["source"] = o.Source, ["says"] = o.Says, ["basis"] = Word(o.Basis) })),
            ["why"] = r.From.Why,
        })),
        ["hazard"] = item.Hazard is { } h ? new JsonObject { ["text"] = h.Text, ["must_acknowledge"] = h.MustAcknowledge, ["source"] = h.From.Source, ["basis"] = Word(h.From.Basis) } : null,
    };

    private static string Word(Basis basis) => basis switch
    {
        Basis.Read => "read",
        Basis.Memory => "memory",
        Basis.CommonPractice => "common practice",
        _ => "shop",
    };
}
