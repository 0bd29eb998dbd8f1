using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using PatternKit.Patterns.Filling;
using PatternKit.Sheets.Texts;
using Spectre.Console;

namespace PatternKit.Cli.Output;

/// <summary>The ways to pour a casting, one a row.</summary>
internal static class WaysTable
{
    /// <summary>Writes them; what is missing is told below.</summary>
    public static void Write(Terminal terminal, ImmutableArray<PouringWay> ways)
    {
        if (ways.IsEmpty) return;
        var table = new Table().Border(TableBorder.Simple)
            .AddColumns("other ways to pour it", "fills in s", "effective head mm", "choke mm²", "at the ingates m/s", "tip chilled", "way frozen", "head lacking", "to pour kg", "does it run?");
        foreach (var way in ways)
        {
            if (way.Gating is not { } g)
            {
                table.AddRow(new Text(Name(way)), new Text(""), new Text(""), new Text(""), new Text(""), new Text(""), new Text(""), new Text(""), new Text(""), new Text("cannot be"));
                continue;
            }

            var (r, worst) = (g.Reckoning, way.Filling?.Worst);
            string[] cells =
            [
                Name(way), Fixed(way.Filling?.FillTime_s ?? r.FillTime_s, 2), Fixed(r.EffectiveHead_mm.Value, 0), Fixed(r.Choke_mm2.Value, 0), Fixed(r.IngateVelocity_m_s, 2),
                Ratio(worst?.Front), Ratio(worst?.Choked), Ratio(worst?.Head), Fixed(g.Metal.Poured_kg, 2) + (g.Bars.IsEmpty ? " + gating" : ""), Verdict(way),
            ];
            table.AddRow(cells.Select(c => new Text(c)));
        }

        terminal.Write(table);
        foreach (var way in ways.Where(w => w.Keys.Length > 0))
            terminal.Results.WriteLine($"  {way.Name}: [gating] {way.Keys}{Head(way)}{(way.Why.Length > 0 ? $"; cannot be: {way.Why}" : way.Gating is { Bars.IsEmpty: true } ? "; no bars are made for it" : "")}");
    }

    /// <summary>The same for scripts.</summary>
    public static JsonArray Json(ImmutableArray<PouringWay> ways) => JsonText.List(ways.Select(w => new JsonObject
    {
        ["way"] = w.Name,
        ["gating"] = w.Keys.Length > 0 ? w.Keys : null,
        ["taken"] = w.IsTaken,
        ["why_not"] = w.Why.Length > 0 ? w.Why : null,
        ["own_head"] = w.HasOwnHead,
        ["up"] = w.Gating?.Position.UpWord,
        ["fill_time_s"] = w.Filling?.FillTime_s ?? w.Gating?.Reckoning.FillTime_s,
        ["head_mm"] = w.Gating?.Reckoning.Head_mm.Value,
        ["effective_head_mm"] = w.Gating?.Reckoning.EffectiveHead_mm.Value,
        ["choke_mm2"] = w.Gating?.Reckoning.Choke_mm2.Value,
        ["ingates"] = w.Gating?.Count.Value,
        ["ingate_velocity_m_s"] = w.Gating?.Reckoning.IngateVelocity_m_s,
        ["front_ratio"] = w.Filling?.Worst.Front,
        ["choked_ratio"] = w.Filling?.Worst.Choked,
        ["head_ratio"] = w.Filling?.Worst.Head,
        ["poured_kg"] = w.Gating?.Metal.Poured_kg,
        ["bars"] = w.Gating?.Bars.Length,
    }));

    private static string Head(PouringWay way) => !way.HasOwnHead ? ""
        : way.Gating is { } g ? $", without head: by its own rule {Fixed(g.Reckoning.Head_mm.Value, 0)} mm over its {(g.Position.IsOnEdge ? "ingates" : "joint")}, since the job’s does not hold for it" : ", without head";

    private static string Name(PouringWay way) => way.IsTaken ? $"▸ {way.Name}" : $"  {way.Name}";

    private static string Verdict(PouringWay way) => way.Filling is { } filling ? FillingLines.ShortVerdict(filling) : "not known";

    private static string Ratio(double? value) => value is { } v ? Fixed(v, 2) : "";

    private static string Fixed(double value, int digits) => value.ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
