using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The findings, the gravest first, numbered as in the plan of their places; severity in words and a symbol.</summary>
internal static class FindingSection
{
    public static XElement Make(Kit kit, SheetNumbers numbers)
    {
        ImmutableArray<Finding> ordered = [.. kit.Findings.OrderByDescending(f => f.Severity)];
        return Tag("section", Set("aria-labelledby", "findings"),
            Tag("h2", Set("id", "findings"), "Findings"),
            kit.HasStop ? Tag("p", Tag("strong", "■ This kit must not be used as it is: see the findings marked “Stop”.")) : null,
            kit.Findings.IsEmpty
                ? Tag("p", "None: the pattern draws as asked, and no limit that was looked at is passed.")
                : null,
            FindingPictures.Of(kit, ordered) is var (picture, shown)
                ? Tag("figure",
                    FigureBox("Findings on the pattern", PictureFigure.Page("picture-findings", "The findings on the pattern: " + string.Join("; ", shown.Select(s => $"on the {(s.Half == MouldHalf.Cope ? "cope" : "drag")} half {string.Join(", ", s.Numbers.Select(n => $"{n} {ordered[n - 1].Code}"))}")), picture)),
                    Tag("figcaption", "Where the findings are on the halves as they are printed. A leader with a dot points at what is seen, a broken one with a ring at what lies inside or behind. Numbers are those of the boxes below."))
                : null,
            FindingPlan.Draw(kit, ordered, numbers) is { } plan
                ? Tag("figure",
                    FigureBox("Places of the findings", plan),
                    Tag("figcaption", "Where the findings are, seen from above, pattern sizes; thin lines are flat grounds, dashed in the drag. Numbers are those of the boxes below."))
                : null,
            ordered.Select((f, i) => Box(f, i + 1, numbers)));
    }

    /// <summary>"1 stop, 2 warnings".</summary>
    public static string Count(Kit kit)
    {
        var counts = new[] { (Severity.Stop, "stop", "stops"), (Severity.Warn, "warning", "warnings"), (Severity.Note, "note", "notes") }
            .Select(s => (Count: kit.Findings.Count(f => f.Severity == s.Item1), One: s.Item2, Many: s.Item3))
            .Where(s => s.Count > 0)
            .Select(s => $"{SheetNumbers.Whole(s.Count)}\u00A0{(s.Count == 1 ? s.One : s.Many)}");
        var text = string.Join(", ", counts);
        return text.Length == 0 ? "none" : text;
    }

    private static XElement Box(Finding finding, int number, SheetNumbers numbers)
    {
        var (symbol, word, className) = finding.Severity switch
        {
            Severity.Stop => ("■", "Stop", "stop"),
            Severity.Warn => ("▲", "Warning", "warn"),
            _ => ("●", "Note", "note"),
        };
        return Classed("article", "finding-box " + className,
            Tag("h3", SheetNumbers.Whole(number), " ", Classed("span", "severity", Tag("span", Set("aria-hidden", "true"), symbol + "\u00A0"), word), " ", Tag("code", finding.Code)),
            Tag("p", finding.Message),
            Classed("dl", "finding",
                Line("Where", finding.At_mm is { } at ? numbers.Place(at) + ", job coordinates" : "the whole job"),
                Line("Found", finding.Value is { } value ? Figure(value, finding.Unit, numbers) : null),
                Line("Limit", finding.Limit is { } limit ? Figure(limit, finding.Unit, numbers) : null),
                Line("Source", finding.Source),
                Line("What to do", finding.Remedy)));
    }

    private static string Figure(double value, string unit, SheetNumbers numbers) => double.IsFinite(value) ? numbers.WithUnit(value, unit) : "not a finite number";

    private static XElement[]? Line(string name, string? text) =>
        string.IsNullOrWhiteSpace(text) ? null : [Tag("dt", name), Tag("dd", text)];
}
