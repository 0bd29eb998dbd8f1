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
            terminal.Results.WriteLine(JsonText.Of(all.Select(Json)));
            return;
        }

        var table = new Table().Border(TableBorder.Simple).AddColumns(what, "value", "", "source");
        foreach (var item in all)
        {
            var names = item.Aliases.Count == 0 ? item.Title : $"{item.Title}; also {string.Join(", ", item.Aliases)}";
            table.AddRow(new Text(item.Key), new Text(names), new Text(""), new Text(""));
            foreach (var r in item.Rows)
                table.AddRow(new Text(item.Key), new Text(r.Label), new Text($"{FindingText.Number(r.Value)} {r.Unit}"), new Text(Source(r)));
            if (item.Hazard is { } h)
                table.AddRow(new Text(item.Key), new Text(h.MustAcknowledge ? "■ hazard, to be acknowledged" : "▲ hazard"), new Text(""), new Text($"{h.Text} [{h.From.Text}]"));
        }

        terminal.Write(table);
    }

    private static string Source(ValueRow r) => r.Printed.Length == 0 ? r.From.Text : $"{r.From.Text}: {r.Printed}";

    private static object Json(ValueRows item) => new
    {
        key = item.Key,
        title = item.Title,
        aliases = item.Aliases,
        values = item.Rows.Select(r => new
        {
            key = r.Key,
            value = Math.Round(r.Value, 9),
            up_to_mm = r.UpTo_mm is { } u && double.IsFinite(u) ? u : (double?)null,
            printed = r.Printed,
            source = r.From.Source,
            basis = Word(r.From.Basis),
            others = r.From.Others,
            why = r.From.Why,
        }),
        hazard = item.Hazard is { } h ? new { text = h.Text, must_acknowledge = h.MustAcknowledge, source = h.From.Source, basis = Word(h.From.Basis) } : null,
    };

    private static string Word(Basis basis) => basis switch
    {
        Basis.Read => "read",
        Basis.Memory => "memory",
        Basis.CommonPractice => "common practice",
        _ => "shop",
    };
}
