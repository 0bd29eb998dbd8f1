using System.Xml.Linq;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The lines of a reckoning as a table: value, rule and source of each.</summary>
internal static class ReckonedTable
{
    private const string None = "–";

    /// <summary>The table.</summary>
    /// <param name="caption">What is reckoned.</param>
    /// <param name="lines">In their order.</param>
    /// <param name="numbers">The sheet's numbers.</param>
    /// <param name="rounded">To what values are rounded; by their unit when left out.</param>
    public static XElement Make(string caption, IEnumerable<ReckonedLine> lines, SheetNumbers numbers, Func<ReckonedLine, double>? rounded = null) =>
        Of(caption, lines.Select(l => Row(l, double.IsNaN(l.Value) ? None : numbers.WithUnit(rounded?.Invoke(l) ?? Rounded(l), l.Unit))));

    /// <summary>The table of rows already made.</summary>
    public static XElement Of(string caption, IEnumerable<object?[]> rows) => Table(caption, ["What", "#Value", "Rule", "Source"], rows);

    /// <summary>A row with its value as it is to be shown.</summary>
    public static object?[] Row(ReckonedLine line, string value) =>
        [line.Label, value, line.Rule.Length == 0 ? None : line.Rule, line.Source.Length == 0 ? None : line.Source];

    /// <summary>The value, rounded to hundredths, litres to thousandths; weights and volumes have their own decimals on the sheet and are not rounded twice.</summary>
    public static double Rounded(ReckonedLine line) => line.Unit is "kg" or "mm3" or "mm³" ? line.Value : Math.Round(line.Value, line.Unit == "l" ? 3 : 2);
}
