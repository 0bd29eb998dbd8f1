using System.Globalization;
using System.Text;

namespace PatternKit.Exchange.Dxf;

/// <summary>A group: its code and its value, undecoded. <c>Line</c> is the line of the value, from 1.</summary>
internal readonly record struct DxfTag(int Code, int Line, ReadOnlyMemory<byte> Value)
{
    /// <summary>The value as ASCII without blanks around it: for keywords of the format, not for names.</summary>
    public string Keyword => Encoding.Latin1.GetString(Value.Span.Trim(" \t"u8));

    /// <summary>Whether the value is this keyword.</summary>
    public bool Is(int code, ReadOnlySpan<byte> keyword) =>
        Code == code && Value.Span.Trim(" \t"u8).SequenceEqual(keyword);

    /// <summary>The value for a message: short, printable.</summary>
    public string Shown => Show(Value.Span);

    internal static string Show(ReadOnlySpan<byte> value)
    {
        var b = new StringBuilder();
        foreach (var c in value[..Math.Min(value.Length, 40)]) b.Append(c is >= 32 and < 127 ? (char)c : '?');
        return value.Length > 40 ? $"'{b}...'" : $"'{b}'";
    }

    /// <summary>A number of the size a drawing can have.</summary>
    /// <exception cref="InputException">Not a number, not finite, or beyond <see cref="DxfLimits.Coordinate"/>.</exception>
    public double Number(string source)
    {
        if (!double.TryParse(Value.Span, NumberStyles.Float, CultureInfo.InvariantCulture, out var number))
            throw new InputException(source, $"line {Line}", $"found {Shown} where a number must stand (group {Code}). Export the drawing again.");
        if (double.IsFinite(number) && Math.Abs(number) <= DxfLimits.Coordinate) return number;
        throw new InputException(source, $"line {Line}",
            $"the number {Shown} (group {Code}) is not a size that a drawing can have. Remove or redraw that entity.");
    }

    /// <summary>A whole number.</summary>
    /// <exception cref="InputException">Not a whole number of 32 bits.</exception>
    public int Whole(string source)
    {
        if (int.TryParse(Value.Span, NumberStyles.Integer, CultureInfo.InvariantCulture, out var number)) return number;
        throw new InputException(source, $"line {Line}", $"found {Shown} where a whole number must stand (group {Code}). Export the drawing again.");
    }
}
