using System.Globalization;
using System.Text;

namespace PatternKit.Exchange.Dxf;

/// <summary>Writes groups as UTF-8 text, two lines each, ended by CR LF; gives out handles.</summary>
internal sealed class DxfGroups
{
    private readonly StringBuilder _text = new();
    private int _handle;

    /// <summary>First handle not given out.</summary>
    public int NextHandle => _handle + 1;

    /// <summary>A handle no record has yet.</summary>
    public string NewHandle() => Hex(++_handle);

    public static string Hex(int handle) => handle.ToString("X", CultureInfo.InvariantCulture);

    public void Add(int code, string value) =>
        _text.Append(code.ToString(CultureInfo.InvariantCulture).PadLeft(3)).Append("\r\n").Append(value).Append("\r\n");

    public void Add(int code, int value) => Add(code, value.ToString(CultureInfo.InvariantCulture));

    public void Add(int code, double value) => Add(code, Decimal(value));

    /// <summary>A point: x, y, and z of zero.</summary>
    public void AddPoint(int code, double x, double y)
    {
        Add(code, x);
        Add(code + 10, y);
        Add(code + 20, 0.0);
    }

    public byte[] ToBytes() => Encoding.UTF8.GetBytes(_text.ToString());

    /// <summary>The shortest digits that read back as the same number, never with an exponent, which some readers do not know.</summary>
    private static string Decimal(double value)
    {
        if (value == 0) return "0.0";
        var text = value.ToString("R", CultureInfo.InvariantCulture);
        var mark = text.IndexOf('E', StringComparison.Ordinal);
        if (mark < 0) return text.Contains('.', StringComparison.Ordinal) ? text : text + ".0";
        var power = int.Parse(text.AsSpan(mark + 1), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
        var digits = text[..mark].Replace(".", "", StringComparison.Ordinal).TrimStart('-');
        // One digit stands before the point of the exponent form.
        var shifted = power < 0 ? "0." + new string('0', -power - 1) + digits : digits.PadRight(power + 1, '0') + ".0";
        return value < 0 ? "-" + shifted : shifted;
    }
}
