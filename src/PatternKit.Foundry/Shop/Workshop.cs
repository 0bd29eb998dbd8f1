using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>What the shop owns and has measured; all of it empty where no shop file says so.</summary>
/// <param name="Flasks">In the order of the files.</param>
/// <param name="Crucibles">In the order of the files.</param>
/// <param name="Castings">Measured sizes.</param>
public sealed record Workshop(ImmutableArray<Flask> Flasks, ImmutableArray<Crucible> Crucibles, ImmutableArray<MeasuredCasting> Castings)
{
    /// <summary>Mould constants that it measured, one for an alloy in a sand.</summary>
    public ImmutableArray<MeasuredConstant> Constants { get; init; } = [];

    /// <summary>Nothing.</summary>
    public static Workshop Empty { get; } = new([], [], []);

    /// <summary>The measured castings of an alloy in a sand.</summary>
    public ImmutableArray<MeasuredCasting> Of(Alloy alloy, Sand sand) => [.. Castings.Where(c => c.Alloy == alloy.Key && c.Sand == sand.Key)];

    /// <summary>The fit to the castings of an alloy in a sand; null where they are too few.</summary>
    public ContractionFit? Fit(Alloy alloy, Sand sand, SpreadTable table) => Of(alloy, sand) is var own && own.Length >= table.LeastCastings ? ContractionFit.Of(own) : null;

    /// <summary>With what a shop file lists; one of a known name takes the place of that, castings come on top.</summary>
    internal Workshop With(TomlMap file, string sourceName, SourceColumn sources, FoundryTables tables)
    {
        var (flasks, crucibles, castings) = (Flasks, Crucibles, Castings);
        foreach (var row in Rows("flask"))
        {
            var flask = Flask.Read(row.Reader);
            flasks = [.. flasks.Where(f => f.Name != flask.Name), flask];
        }

        foreach (var row in Rows("crucible"))
        {
            var crucible = Crucible.Read(row.Reader);
            crucibles = [.. crucibles.Where(c => c.Name != crucible.Name), crucible];
        }

        foreach (var row in Rows("cast"))
            castings = castings.Add(MeasuredCasting.Read(row.Reader, r => Known(r, "alloy", n => tables.Alloy(n).Key), r => Known(r, "sand", n => tables.Sand(n).Key), FormattableString.Invariant($"{sourceName}, line {row.Line}")));
        var given = Rows("mould_constant").Select(row => (row.Reader, Row: MeasuredConstant.Read(row.Reader, r => Known(r, "alloy", n => tables.Alloy(n).Key), r => Known(r, "sand", n => tables.Sand(n).Key)))).ToArray();
        foreach (var twice in given.GroupBy(g => (g.Row.Alloy, g.Row.Sand)).Where(g => g.Count() > 1))
            throw twice.Last().Reader.Error($"the mould constant of {Shown.Short(twice.Key.Alloy)} in {Shown.Short(twice.Key.Sand)} is given twice; keep the better one.", twice.Last().Reader.LineOf("alloy"));
        return new(flasks, crucibles, castings) { Constants = [.. Constants.Where(c => given.All(g => (g.Row.Alloy, g.Row.Sand) != (c.Alloy, c.Sand))), .. given.Select(g => g.Row)] };

        IEnumerable<(RowReader Reader, int Line)> Rows(string key) => file.Find(key) switch
        {
            null => [],
            TomlList list when list.Items.All(i => i is TomlMap) =>
                list.Items.Cast<TomlMap>().Select((m, i) => (new RowReader(sourceName, FormattableString.Invariant($"{key}[{i + 1}]"), m, sources), m.Line)),
            var other => throw new TableException(sourceName, key, other.Line, $"is {other.Kind}; it is written in double brackets, once for each: [[{key}]]."),
        };
    }

    private static string Known(RowReader row, string key, Func<string, string> find)
    {
        try
        {
            return find(row.Text(key));
        }
        catch (UnknownNameException e)
        {
            throw row.Error(e.Message);
        }
    }
}
