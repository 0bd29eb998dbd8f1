using System.Collections.Frozen;
using System.Globalization;
using System.Text;

namespace PatternKit.Sheets.Paper;

/// <summary>How a class of lines or areas of a drawing looks, on every medium: HTML gets it as a style sheet, PDF and PNG as paint.</summary>
/// <param name="Fill">Six hexadecimal digits; null for none.</param>
/// <param name="Stroke">The same of the line.</param>
/// <param name="Width_mm">Of the line on the paper. Widths are of the series of ISO 128-2: 0.18, 0.25, 0.35, 0.5, 0.7 mm.</param>
/// <param name="Dashes_mm">Dash, gap, dash, gap …; empty for a continuous line.</param>
internal sealed record DrawingStyle(string? Fill, string? Stroke, double Width_mm, params double[] Dashes_mm)
{
    private const string Ink = "1a1c1e";
    private const string Grey = "5d646b";
    private const string Blue = "1f5f9e";

    /// <summary>What has no class.</summary>
    public static DrawingStyle Default { get; } = new(Ink, null, 0);

    /// <summary>All classes by name.</summary>
    public static FrozenDictionary<string, DrawingStyle> All { get; } = new Dictionary<string, DrawingStyle>
    {
        ["footprint"] = new("eceff2", null, 0),
        ["cope-outline"] = new(null, Ink, 0.5),
        ["drag-outline"] = new(null, Blue, 0.7, 3.5, 2),
        ["cope-flat"] = new(null, Grey, 0.25),
        ["drag-flat"] = new(null, Blue, 0.25, 1.6, 1),
        ["cope-mark"] = new("b4b9be", null, 0),
        ["drag-mark"] = new(null, Blue, 0.25),
        ["dowel"] = new("ffffff", Ink, 0.35),
        ["centre"] = new(null, Ink, 0.18, 2.4, 0.6, 0.5, 0.6),
        ["cut-end"] = new(null, Ink, 0.7),
        ["thin"] = new(null, Ink, 0.18),
        ["origin-axis"] = new(null, Ink, 0.35),
        ["origin-dot"] = new("ffffff", Ink, 0.35),
        ["cope-cut"] = new("ffffff", Ink, 0.5),
        ["drag-cut"] = new("ffffff", Ink, 0.5),
        ["joint-line"] = new(null, Ink, 0.25, 6, 1, 1, 1),
        ["phantom"] = new(null, Ink, 0.25, 5, 0.8, 0.5, 0.8, 0.5, 0.8),
        ["visible"] = new(null, Ink, 0.5),
        ["hidden"] = new(null, Ink, 0.25, 3, 0.75),
        ["hatch"] = new(null, Ink, 0.18),
        ["frame"] = new(null, Ink, 0.7),
        ["ink"] = new(Ink, null, 0),
        ["paper"] = new("ffffff", null, 0),
        ["balloon"] = new("ffffff", Ink, 0.35),
        ["cut"] = new(null, "000000", 0.25),
        ["drill"] = new(null, "000000", 0.25),
        ["engrave"] = new(null, "000000", 0.18),
        ["register"] = new(null, "000000", 0.25),
        ["seam"] = new(null, Grey, 0.18, 4, 2),
    }.ToFrozenDictionary();

    /// <summary>The style of a class; an unknown one is a mistake in the drawing.</summary>
    public static DrawingStyle Of(string? name) => name is null ? Default : All.TryGetValue(name, out var style) ? style : Default;

    /// <summary>All classes as rules of a style sheet.</summary>
    public static string Css()
    {
        var text = new StringBuilder();
        foreach (var (name, s) in All.OrderBy(a => a.Key, StringComparer.Ordinal))
        {
            text.Append(CultureInfo.InvariantCulture, $".{name} {{ fill: {(s.Fill is null ? "none" : "#" + s.Fill)}; stroke: {(s.Stroke is null ? "none" : "#" + s.Stroke)};");
            if (s.Stroke is not null) text.Append(CultureInfo.InvariantCulture, $" stroke-width: {s.Width_mm:0.##}; stroke-linejoin: round;");
            if (s.Dashes_mm.Length > 0) text.Append(CultureInfo.InvariantCulture, $" stroke-dasharray: {string.Join(' ', s.Dashes_mm.Select(d => d.ToString("0.##", CultureInfo.InvariantCulture)))};");
            text.Append(" }\n");
        }

        return text.ToString();
    }
}
