using System.Globalization;
using System.Text;

namespace PatternKit.Exchange.Dxf;

/// <summary>Writes groups as ASCII text, two lines each, ended by CR LF; gives out handles.</summary>
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

    /// <summary>Text of a user; what is beyond ASCII as \U+XXXX, which every release reads alike.</summary>
    public void AddText(int code, string value)
    {
        var b = new StringBuilder(value.Length);
        foreach (var c in value)
        {
            if (c == '^') b.Append("^ ");
            else if (c < 127) b.Append(c);
            else b.Append("\\U+").Append(((int)c).ToString("X4", CultureInfo.InvariantCulture));
        }

        Add(code, b.ToString());
    }

    /// <summary>A point: x, y, and z of zero.</summary>
    public void AddPoint(int code, double x, double y)
    {
        Add(code, x);
        Add(code + 10, y);
        Add(code + 20, 0.0);
    }

    public byte[] ToBytes() => Encoding.ASCII.GetBytes(_text.ToString());

    /// <summary>The shortest digits that read back as the same number, never with an exponent, which some readers do not know.</summary>
    private static string Decimal(double value)
    {
        if (value == 0) return "0.0";
        var text = value.ToString("R", CultureInfo.InvariantCulture);
        if (text.Contains('E', StringComparison.Ordinal))
        {
            var places = Math.Abs(value) >= 1 ? 1 : 17 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
            text = value.ToString("F" + places.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).TrimEnd('0');
            return text.EndsWith('.') ? text + "0" : text;
        }

        return text.Contains('.', StringComparison.Ordinal) ? text : text + ".0";
    }
}
