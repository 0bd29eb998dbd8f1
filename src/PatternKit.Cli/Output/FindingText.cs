using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Patterns;

namespace PatternKit.Cli.Output;

/// <summary>Findings and notes in words; the weight is told by word and symbol, never by colour.</summary>
internal static class FindingText
{
    /// <summary>Writes findings, the gravest first, else in their order.</summary>
    public static void Write(TextWriter to, IEnumerable<Finding> findings)
    {
        foreach (var f in findings.OrderByDescending(f => f.Severity))
        {
            to.WriteLine($"  {Mark(f.Severity)} {f.Code}: {f.Message}{Place(f)}");
            if (f.Limit is { } limit) to.WriteLine($"      limit {Number(limit)}{(f.Unit.Length > 0 ? " " + f.Unit : "")}{(f.Source is { } s ? $" ({s})" : "")}");
            if (f.Remedy is { } remedy) to.WriteLine($"      → {remedy}");
        }
    }

    /// <summary>Writes what was repaired or left out while reading.</summary>
    public static void Write(TextWriter to, IEnumerable<ReadNote> notes)
    {
        foreach (var n in notes) to.WriteLine($"  • read: {n.Source}{(n.Line > 0 ? $", line {n.Line}" : "")}: {n.Text}");
    }

    /// <summary>A finding for scripts.</summary>
    public static object Json(Finding f) => new
    {
        code = f.Code,
        severity = Word(f.Severity),
        message = f.Message,
        at_mm = f.At_mm is { } p ? new[] { p.X, p.Y, p.Z } : null,
        value = f.Value,
        limit = f.Limit,
        unit = f.Unit,
        source = f.Source,
        remedy = f.Remedy,
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
