using System.Collections.Immutable;

namespace PatternKit.Foundry.Reading;

/// <summary>
/// Lays the rows of a shop file over those of a built-in table. A row changes the fields that it gives; of a list whose rows are
/// chosen by family, alloys or size, a row of the same choice is changed and any other is added where it is found first; other lists are replaced whole.
/// What comes of it is read by the table's own reader, so that the shop's values keep the same limits.
/// </summary>
internal static class TableOverlay
{
    private static readonly string[] About = ["source", "basis", "printed", "others", "why"];

    /// <param name="known">The table so far.</param>
    /// <param name="own">What the shop file has for it.</param>
    /// <param name="shop">Name of the shop file.</param>
    public static TomlMap Over(TomlMap known, TomlMap own, string shop) =>
        known.Find("source") is null ? Group(known, own, shop) : Row(known, own, shop);

    private static TomlMap Group(TomlMap known, TomlMap own, string shop)
    {
        var fields = known.Fields;
        foreach (var field in own.Fields)
        {
            var before = fields.FirstOrDefault(f => f.Key == field.Key);
            var value = (before?.Value, field.Value) switch
            {
                (TomlMap a, TomlMap b) => Over(a, b, shop),
                (TomlList a, TomlList b) when AllRows(a) && AllRows(b) => Rows(a, b, shop),
                (TomlList a, TomlMap b) when AllRows(a) => Rows(a, new TomlList(b.Line, [b]), shop),
                _ => field.Value,
            };
            var after = new TomlField(field.Key, field.Line, value);
            fields = before is null ? fields.Add(after) : fields.Replace(before, after);
        }

        return new TomlMap(own.Line, fields) { Origin = new(shop, SourceColumn.Shop(SourceColumn.FileName(shop))) };
    }

    private static TomlMap Row(TomlMap known, TomlMap own, string shop)
    {
        var kept = known.Fields.Where(f => !About.Contains(f.Key) && own.Find(f.Key) is null).ToArray();
        var before = (known.Find("source") as TomlText)?.Value ?? known.Origin?.Sources.LeftOut?.Source;
        var file = SourceColumn.FileName(shop);
        var source = kept.All(f => Chooses(f.Key)) ? file : $"{file}; what it leaves out: {before}";
        return Own(new TomlMap(own.Line, [.. kept, .. own.Fields]), shop, source);
    }

    private static TomlList Rows(TomlList known, TomlList own, string shop)
    {
        var rows = known.Items.Cast<TomlMap>().ToList();
        if (!rows.Any(r => r.Fields.Any(f => Chooses(f.Key)))) return new TomlList(own.Line, [.. own.Items.Cast<TomlMap>().Select(r => Own(r, shop, SourceColumn.FileName(shop)))]);
        foreach (var row in own.Items.Cast<TomlMap>())
        {
            var same = rows.FindIndex(r => SameMetals(r, row) && Limits(r, row).All(l => l.Known == l.Own));
            if (same >= 0)
            {
                rows[same] = Row(rows[same], row, shop);
                continue;
            }

            // The first row that fits is taken: before the one that would take its sizes, else before all.
            var wider = rows.FindIndex(r => SameMetals(r, row) && Limits(r, row).All(l => l.Known >= l.Own));
            rows.Insert(Math.Max(wider, 0), Own(row, shop, SourceColumn.FileName(shop)));
        }

        return new TomlList(own.Line, [.. rows]);
    }

    private static TomlMap Own(TomlMap row, string shop, string source) => row with { Origin = new(shop, SourceColumn.Shop(source)) };

    private static bool AllRows(TomlList list) => list.Items.All(i => i is TomlMap);

    private static bool Chooses(string key) => IsLimit(key) || key is "family" or "families" or "alloys" or "bond";

    private static bool IsLimit(string key) => key.StartsWith("up_to_", StringComparison.Ordinal);

    private static bool SameMetals(TomlMap a, TomlMap b) => Metals(a) == Metals(b);

    private static string Metals(TomlMap row) => string.Join('\n', row.Fields.Where(f => Chooses(f.Key) && !IsLimit(f.Key)).OrderBy(f => f.Key, StringComparer.Ordinal).Select(f => $"{f.Key} {Written(f.Value)}"));

    private static string Written(TomlNode node) => node switch
    {
        TomlText t => t.Value,
        TomlList l => string.Join('\t', l.Items.Select(Written).Order(StringComparer.Ordinal)),
        _ => node.Kind,
    };

    /// <summary>The limits that either row has; a row without one holds for every size.</summary>
    private static IEnumerable<(double Known, double Own)> Limits(TomlMap known, TomlMap own) =>
        known.Fields.Concat(own.Fields).Select(f => f.Key).Where(IsLimit).Distinct().Select(k => (Limit(known, k), Limit(own, k)));

    private static double Limit(TomlMap row, string key) => row.Find(key) is TomlNumber n ? n.Value : double.PositiveInfinity;
}
