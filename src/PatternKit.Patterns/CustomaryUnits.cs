using System.Collections.Frozen;
using System.Globalization;
using System.Text.RegularExpressions;

namespace PatternKit.Patterns;

/// <summary>A customary unit: its value is From + Factor × the metric one, told with so many decimals where nothing else says how many.</summary>
public readonly record struct CustomaryUnit(string Name, double Factor, double From, int Decimals);

/// <summary>
/// Customary units beside metric ones, for jobs in inches. By the definitions of 1959: 1 in = 25.4 mm, 1 lb = 0.45359237 kg; 1 lbf = 1 lb × 9.80665 m/s², 1 US gal = 231 in³,
/// 0 °C = 32 °F and 5 °C = 9 °F apart.
/// </summary>
public static partial class CustomaryUnits
{
    /// <summary>Millimetres.</summary>
    public const double Inch_mm = 25.4;

    /// <summary>Kilograms.</summary>
    public const double Pound_kg = 0.45359237;

    private const double CubicInch_mm3 = Inch_mm * Inch_mm * Inch_mm;

    private static readonly FrozenDictionary<string, CustomaryUnit> All = new Dictionary<string, CustomaryUnit>
    {
        ["mm"] = new("in", 1 / Inch_mm, 0, 3),
        ["mm²"] = new("in²", 1 / (Inch_mm * Inch_mm), 0, 3),
        ["mm³"] = new("in³", 1 / CubicInch_mm3, 0, 3),
        ["cm³"] = new("in³", 1e3 / CubicInch_mm3, 0, 3),
        ["kg"] = new("lb", 1 / Pound_kg, 0, 3),
        ["N"] = new("lbf", 1 / (Pound_kg * 9.80665), 0, 1),
        ["kPa"] = new("psi", 1e-3 * Inch_mm * Inch_mm / (Pound_kg * 9.80665), 0, 2),
        ["m/s"] = new("ft/s", 1000 / (12 * Inch_mm), 0, 2),
        ["kg/s"] = new("lb/s", 1 / Pound_kg, 0, 1),
        ["kg/m³"] = new("lb/ft³", 1e-9 * 1728 * CubicInch_mm3 / Pound_kg, 0, 1),
        ["l"] = new("US\u00A0gal", 1e6 / (231 * CubicInch_mm3), 0, 2),
        ["°C"] = new("°F", 1.8, 32, 0),
    }.ToFrozenDictionary();

    /// <summary>The unit that stands for a metric one; null where none does.</summary>
    public static CustomaryUnit? Of(string metric) => All.TryGetValue(metric, out var unit) ? unit : null;

    /// <summary>
    /// Prose with its metric figures put second: "6 mm deep" becomes "0.24 in (6 mm) deep", "(1, 2.5) mm" becomes "(0.039, 0.098 in; 1, 2.5 mm)", and several places alike. Figures have as many decimals as tell them
    /// no coarser than the metric ones were told. What stands in quotation marks, and what has inches beside it already, stays.
    /// </summary>
    public static string First(string prose) => Figures().Replace(prose, match =>
    {
        if (!match.Groups["unit"].Success) return match.Value;
        var (name, values) = (match.Groups["unit"].Value, match.Groups["values"].Value);
        var unit = All[name];
        var decimals = Math.Max(0, (int)Math.Ceiling(Numbers().Matches(values).Max(n => Decimals(n.Value)) - Math.Log10(unit.Factor)));
        var told = Numbers().Replace(values, number => Told(unit, number.Value, decimals));
        if (values.Contains(')', StringComparison.Ordinal)) return $"({told}) {unit.Name} (({values}) {name})";
        return match.Groups["place"].Success ? $"({told} {unit.Name}; {values} {name})" : $"{told} {unit.Name} ({values} {name})";
    });

    private static int Decimals(string number) => number.Contains('.', StringComparison.Ordinal) ? number.Length - number.IndexOf('.', StringComparison.Ordinal) - 1 : 0;

    private static string Told(CustomaryUnit unit, string number, int decimals)
    {
        var value = double.Parse(number.Replace("\u202F", "", StringComparison.Ordinal).Replace('\u2212', '-'), CultureInfo.InvariantCulture);
        // Adding zero turns a negative zero into zero.
        return (Math.Round(unit.From + (unit.Factor * value), decimals, MidpointRounding.AwayFromZero) + 0.0).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    private const string Number = @"[-\u2212]?\d[\d\u202F]*(?:\.\d+)?";

    private const string Place = $@"{Number}(?:,\ {Number})+";

    [GeneratedRegex($"""
        “[^”]*”|"[^"]*"|\d\ in\ \([^)]*\)|
        (?:\((?<place>)(?<values>{Place}(?:\)(?:,\ |\ and\ )\({Place})*)\)
        |(?<![\w.,])(?<values>{Number}(?:(?:\ to\ |\ and\ |\ ×\ |–){Number})*))
        [\ \u00A0](?<unit>mm[²³]?|cm³|kg/m³|kg/s|kg|kPa|m/s|N|l|°C)(?![\w²³/]|\ \(\d[\d.]*\ in\b)
        """, RegexOptions.IgnorePatternWhitespace | RegexOptions.CultureInvariant)]
    private static partial Regex Figures();

    [GeneratedRegex(Number, RegexOptions.CultureInvariant)]
    private static partial Regex Numbers();
}
