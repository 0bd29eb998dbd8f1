using PatternKit.Foundry;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads <c>gating = "none"</c> or [gating]: ratio, pour time, head, place and number of ingates, pouring temperature.</summary>
internal static class GatingReader
{
    private const string Example = "[gating] with its keys below it, or gating = \"none\" before the first table";

    private static readonly string[] Keys = ["ratio", "time", "head", "at", "ingates", "pour_temperature"];

    /// <summary>The settings; everything by rule when left out.</summary>
    public static GatingSettings? Read(JobText text, TomlEntry? entry)
    {
        if (entry is null || Values.Is(entry.Value, "auto")) return null;
        if (Values.Is(entry.Value, "none")) return new(Wanted: false);
        var s = Section.Open(text, entry, "[gating]", Keys, Example);
        return new(
            true,
            Given(s["ratio"]) is { } ratio ? Ratio(text, ratio) : null,
            Given(s["time"]) is { } time ? Values.Plain(text, time, "time of [gating] (seconds)", 0.1, 1000) : null,
            Given(s["head"]) is { } head ? Values.Length(text, head, "head of [gating]", 10, 1000) : null,
            Given(s["at"]) is { } at ? Values.Point(text, at, "at of [gating]") : null,
            Given(s["ingates"]) is { } count ? Values.Count(text, count, "ingates of [gating]", 1, 20) : null,
            Given(s["pour_temperature"]) is { } pour ? Values.Plain(text, pour, "pour_temperature of [gating] (degrees Celsius)", 100, 2000) : null);
    }

    private static TomlNode? Given(TomlEntry? entry) => entry is null || Values.Is(entry.Value, "auto") ? null : entry.Value;

    private static GatingRatio Ratio(JobText text, TomlNode node)
    {
        var parts = Values.Items(text, node, "ratio of [gating]", 3, 3, "[1, 2, 2]: sprue base, runner, all ingates");
        double Part(int i, string what) => Values.Plain(text, parts[i], $"{what} in ratio of [gating]", 0.1, 20);
        return new(Part(0, "sprue"), Part(1, "runner"), Part(2, "ingates"));
    }
}
