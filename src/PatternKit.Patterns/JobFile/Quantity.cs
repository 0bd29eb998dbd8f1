using System.Globalization;
using System.Text.RegularExpressions;

namespace PatternKit.Patterns.JobFile;

/// <summary>What a quantity measures.</summary>
internal enum Dimension
{
    /// <summary>No unit was written.</summary>
    Bare,

    /// <summary>In millimetres.</summary>
    Length,

    /// <summary>In degrees.</summary>
    Angle,

    /// <summary>A fraction, such as millimetres in a millimetre.</summary>
    Ratio,
}

/// <summary>
/// A number with a unit as written in a job: "12 mm", "1 3/16 in", "2°", "1.3 %", "1/8 in/ft".
/// Arithmetic is decimal, so that 1 3/16 in is 30.1625 mm to the last bit.
/// </summary>
/// <param name="Value">In millimetres, degrees or as a fraction; as written when bare.</param>
/// <param name="Dimension">What it measures.</param>
internal readonly partial record struct Quantity(double Value, Dimension Dimension)
{
    // Exact by definition: the inch is 25.4 mm (international yard and pound agreement, 1959).
    private static readonly Dictionary<string, (Dimension Dimension, decimal Factor)> Units = new(StringComparer.OrdinalIgnoreCase)
    {
        ["mm"] = (Dimension.Length, 1m),
        ["cm"] = (Dimension.Length, 10m),
        ["m"] = (Dimension.Length, 1000m),
        ["in"] = (Dimension.Length, 25.4m),
        ["inch"] = (Dimension.Length, 25.4m),
        ["inches"] = (Dimension.Length, 25.4m),
        ["\""] = (Dimension.Length, 25.4m),
        ["″"] = (Dimension.Length, 25.4m),
        ["ft"] = (Dimension.Length, 304.8m),
        ["thou"] = (Dimension.Length, 0.0254m),
        ["deg"] = (Dimension.Angle, 1m),
        ["degree"] = (Dimension.Angle, 1m),
        ["degrees"] = (Dimension.Angle, 1m),
        ["°"] = (Dimension.Angle, 1m),
        ["rad"] = (Dimension.Angle, 57.295779513082320876798154814m),
        ["%"] = (Dimension.Ratio, 0.01m),
        ["mm/m"] = (Dimension.Ratio, 0.001m),
        ["in/ft"] = (Dimension.Ratio, 1m / 12m),
    };

    /// <summary>Reads a quantity.</summary>
    /// <param name="text">As written.</param>
    /// <param name="quantity">What was read.</param>
    /// <param name="problem">Why it cannot be read, with a remedy.</param>
    public static bool TryParse(string text, out Quantity quantity, out string problem)
    {
        quantity = default;
        problem = "";
        var match = text.Length <= 60 ? Form().Match(text.Trim()) : Match.Empty;
        if (!match.Success)
        {
            problem = DecimalComma().IsMatch(text)
                ? "has a decimal comma; write a point, such as \"12.5 mm\"."
                : "is not a number with a unit; write such as \"12.5 mm\", \"1 3/16 in\" or \"2 deg\".";
            return false;
        }

        var unit = Blanks().Replace(match.Groups["unit"].Value, "");
        var (dimension, factor) = (Dimension.Bare, 1m);
        if (unit.Length > 0)
        {
            if (!Units.TryGetValue(unit, out var known))
            {
                problem = $"has the unknown unit \"{unit}\".{Nearest.Hint(unit, Units.Keys)}";
                return false;
            }

            (dimension, factor) = known;
        }

        if (!TryNumber(match, factor, out var value, out problem)) return false;
        quantity = new(value, dimension);
        return true;
    }

    private static bool TryNumber(Match match, decimal factor, out double value, out string problem)
    {
        value = 0;
        problem = "";
        try
        {
            decimal result;
            if (match.Groups["num"].Success)
            {
                var whole = match.Groups["whole"].Success ? Decimal(match, "whole") : 0m;
                var denominator = Decimal(match, "den");
                if (denominator == 0)
                {
                    problem = "divides by zero; write a fraction such as \"3/4 in\".";
                    return false;
                }

                result = ((whole * denominator) + Decimal(match, "num")) * factor / denominator;
            }
            else
            {
                result = Decimal(match, "dec") * factor;
            }

            value = (double)(match.Groups["sign"].Value is "-" or "−" ? -result : result);
            return true;
        }
        catch (OverflowException)
        {
            problem = "is too large a number; check it.";
            return false;
        }
    }

    private static decimal Decimal(Match match, string group) =>
        decimal.Parse(match.Groups[group].Value, NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^(?<sign>[+\-−])?\s*(?:(?:(?<whole>[0-9]{1,6})(?:\s+|-))?(?<num>[0-9]{1,6})\s*/\s*(?<den>[0-9]{1,6})|(?<dec>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?))\s*(?<unit>[^0-9\s.,+\-][^0-9.,+\-]*)?$")]
    private static partial Regex Form();

    [GeneratedRegex(@"^\s*[+\-−]?[0-9]+,[0-9]+")]
    private static partial Regex DecimalComma();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();
}
