using System.Globalization;
using System.Text.RegularExpressions;

namespace PatternKit.Foundry.Tests;

/// <summary>Reads a contraction as handbooks print it, so that converted table values can be held against it.</summary>
internal static partial class PublishedFigure
{
    /// <summary>Percent of what the source refers to.</summary>
    public static double Percent(string printed)
    {
        if (InchesPerFoot().Match(printed) is { Success: true } inches)
            return Value(inches.Groups[1].Value) / 12 * 100;
        if (OneIn().Match(printed) is { Success: true } ratio)
            return 100 / Value(ratio.Groups[1].Value);
        if (PerMille().Match(printed) is { Success: true } mille)
            return Value(mille.Groups[1].Value) / 10;
        if (Plain().Match(printed) is { Success: true } percent)
            return Value(percent.Groups[1].Value);
        throw new FormatException($"'{printed}' is not a contraction as handbooks print it.");
    }

    private static double Value(string text)
    {
        var parts = text.Split('/');
        var first = double.Parse(parts[0], CultureInfo.InvariantCulture);
        return parts.Length == 1 ? first : first / double.Parse(parts[1], CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"^([\d./]+) in/ft$")]
    private static partial Regex InchesPerFoot();

    [GeneratedRegex(@"^1 in ([\d.]+)$")]
    private static partial Regex OneIn();

    [GeneratedRegex(@"^([\d.]+) mm/m$")]
    private static partial Regex PerMille();

    [GeneratedRegex(@"^([\d.]+) %( of pattern)?$")]
    private static partial Regex Plain();
}
