using System.Globalization;

namespace PatternKit.Foundry;

/// <summary>How numbers and foreign words appear in rule texts and messages.</summary>
internal static class Shown
{
    /// <summary>At most four decimals, invariant, no trailing zeros.</summary>
    public static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    /// <summary>A fraction as percent with two decimals kept where needed: 0.013 gives "1.3 %".</summary>
    public static string Percent(double fraction) => (fraction * 100).ToString("0.###", CultureInfo.InvariantCulture) + " %";

    /// <summary>Text from outside, cut to a length that a message can hold, control characters out.</summary>
    public static string Short(string text)
    {
        var clean = string.Concat(text.Take(60).Select(c => char.IsControl(c) ? ' ' : c));
        return text.Length > 60 ? clean + "…" : clean;
    }

    /// <summary>"over 40 to 63 mm", "up to 40 mm", "over 600 mm".</summary>
    public static string Range_mm(double over, double upTo)
    {
        if (double.IsPositiveInfinity(upTo))
            return over > 0 ? $"over {Number(over)} mm" : "any size";
        return over > 0 ? $"over {Number(over)} to {Number(upTo)} mm" : $"up to {Number(upTo)} mm";
    }
}
