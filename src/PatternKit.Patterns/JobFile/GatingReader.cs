using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads <c>gating = "none"</c> or [gating]: ratio, pour time, head, place and number of ingates, pouring temperature, and how the mould stands.</summary>
internal static class GatingReader
{
    private const string Example = "[gating] with its keys below it, or gating = \"none\" before the first table";

    private static readonly string[] Keys = ["ratio", "time", "head", "at", "ingates", "pour_temperature", "pour", "up"];

    /// <summary>The settings; everything by rule when left out.</summary>
    public static GatingSettings? Read(JobText text, TomlEntry? entry)
    {
        if (entry is null || Values.Is(entry.Value, "auto")) return null;
        if (Values.Is(entry.Value, "none")) return new(Wanted: false);
        var s = Section.Open(text, entry, "[gating]", Keys, Example);
        var where = s["at"]?.Value is TomlText ? Where(text, s["at"]!) : GatedAt.Rule;
        if (where is GatedAt.OneEnd or GatedAt.BothEnds && s["ingates"] is { } beside)
            throw text.Refuse(beside.Line, $"ingates beside at = {s["at"]!.Value.Quoted} of [gating]: an end gets one ingate; leave ingates out.");
        var onEdge = s["pour"] is { } pour && Values.Word(text, pour, "flat", "on edge") == "on edge";
        if (!onEdge && s["up"] is { } up) throw text.Refuse(up.Line, "up of [gating] is for a mould that stands on edge; write pour = \"on edge\" beside it, or leave it out.");
        return new(
            true,
            Given(s["ratio"]) is { } ratio ? Ratio(text, ratio) : null,
            Given(s["time"]) is { } time ? Values.Plain(text, time, "time of [gating] (seconds)", 0.1, 1000) : null,
            Given(s["head"]) is { } head ? Values.Length(text, head, "head of [gating]", 10, 1000) : null,
            Given(s["at"]) is { } at and not TomlText ? Values.Point(text, at, "at of [gating]") : null,
            Given(s["ingates"]) is { } count ? Values.Count(text, count, "ingates of [gating]", 1, 20) : null,
            Given(s["pour_temperature"]) is { } heat ? Values.Plain(text, heat, "pour_temperature of [gating] (degrees Celsius)", 100, 2000) : null)
        {
            Where = where,
            OnEdge = onEdge,
            Up = s["up"] is { } side && Given(side) is not null ? Up(text, side) : null,
        };
    }

    private static GatedAt Where(JobText text, TomlEntry entry) => Values.Word(text, entry, "one end", "both ends", "bottom", "auto") switch
    {
        "one end" => GatedAt.OneEnd,
        "both ends" => GatedAt.BothEnds,
        "bottom" => GatedAt.Bottom,
        _ => GatedAt.Rule,
    };

    private static Vec2 Up(JobText text, TomlEntry entry) => Values.Word(text, entry, "+x", "-x", "+y", "-y") switch
    {
        "+x" => new(1, 0),
        "-x" => new(-1, 0),
        "+y" => new(0, 1),
        _ => new(0, -1),
    };

    private static TomlNode? Given(TomlEntry? entry) => entry is null || Values.Is(entry.Value, "auto") ? null : entry.Value;

    private static GatingRatio Ratio(JobText text, TomlNode node)
    {
        var parts = Values.Items(text, node, "ratio of [gating]", 3, 3, "[1, 2, 2]: sprue base, runner, all ingates");
        double Part(int i, string what) => Values.Plain(text, parts[i], $"{what} in ratio of [gating]", 0.1, 20);
        return new(Part(0, "sprue"), Part(1, "runner"), Part(2, "ingates"));
    }
}
