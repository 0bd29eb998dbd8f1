using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using PatternKit.Exchange;
using PatternKit.Patterns;

namespace PatternKit.Cli.Output;

/// <summary>Findings and notes in words; the weight is told by word and symbol, never by colour.</summary>
internal static class FindingText
{
    /// <summary>Findings in the order of their numbers: the gravest first, else as they were found.</summary>
    public static ImmutableArray<Finding> Ordered(IEnumerable<Finding> findings) => [.. findings.OrderByDescending(f => f.Severity)];

    /// <summary>Writes findings, the gravest first, else in their order.</summary>
    /// <param name="to">Where to.</param>
    /// <param name="findings">The findings.</param>
    /// <param name="numbered">With numbers from 1, by which a picture names them.</param>
    /// <param name="told">Those that are told elsewhere; null for none.</param>
    public static void Write(TextWriter to, IEnumerable<Finding> findings, bool numbered = false, Func<Finding, bool>? told = null)
    {
        foreach (var (f, i) in Ordered(findings).Select((f, i) => (f, i)))
        {
            if (told?.Invoke(f) == true) continue;
            to.WriteLine($"  {(numbered ? $"{i + 1} " : "")}{Mark(f.Severity)} {f.Code}: {f.Message}{Place(f)}");
            if (f.Limit is { } limit) to.WriteLine($"      limit {Number(limit)}{(f.Unit.Length > 0 ? " " + f.Unit : "")}{(f.Source is { } s ? $" ({s})" : "")}");
            if (f.Remedy is { } remedy) to.WriteLine($"      → {remedy}");
        }
    }

    /// <summary>Writes what was repaired or left out while reading.</summary>
    public static void Write(TextWriter to, IEnumerable<ReadNote> notes)
    {
        foreach (var n in notes) to.WriteLine($"  • read: {n.Source}{(n.Line > 0 ? $", line {n.Line}" : "")}: {n.Text}");
    }

    /// <summary>Findings for scripts, in the order of their numbers, which begin with 1.</summary>
    public static JsonArray Json(IEnumerable<Finding> findings) => JsonText.List(Ordered(findings).Select(Json));

    /// <summary>A finding for scripts.</summary>
    public static JsonObject Json(Finding f) => new()
    {
        ["code"] = f.Code,
        ["severity"] = Word(f.Severity),
        ["message"] = f.Message,
        ["at_mm"] = f.At_mm is { } p ? JsonText.Row(p) : null,
        ["value"] = f.Value,
        ["limit"] = f.Limit,
        ["unit"] = f.Unit,
        ["source"] = f.Source,
        ["remedy"] = f.Remedy,
    };

    /// <summary>A number for people.</summary>
    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>The weight as it stands in JSON.</summary>
    public static string Word(Severity severity) => severity switch
    {
        Severity.Stop => "stop",
        Severity.Warn => "warn",
        _ => "note",
    };

    private static string Mark(Severity severity) => severity switch
    {
        Severity.Stop => "■ stop",
        Severity.Warn => "▲ warn",
        _ => "• note",
    };

    private static string Place(Finding f) =>
        f.At_mm is { } p ? $" At ({Number(p.X)}, {Number(p.Y)}, {Number(p.Z)}) mm." : "";
}
