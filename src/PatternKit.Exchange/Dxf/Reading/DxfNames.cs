using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace PatternKit.Exchange.Dxf;

/// <summary>
/// Turns the bytes of names into text: UTF-8 from AC1021 on, the code page of $DWGCODEPAGE before it, and the
/// escapes \U+XXXX in either (DXF reference, "ASCII DXF files" and HEADER section).
/// </summary>
internal sealed partial class DxfNames
{
    private static readonly UTF8Encoding StrictUtf8 = new(false, throwOnInvalidBytes: true);
    private readonly Encoding? _declared;
    private readonly bool _utf8;
    private readonly Action<int, string> _note;
    private bool _noted;

    /// <param name="version">Value of $ACADVER, or null.</param>
    /// <param name="codePage">Value of $DWGCODEPAGE, or null.</param>
    /// <param name="note">Takes a line and a remark about a guess that had to be made.</param>
    public DxfNames(string? version, string? codePage, Action<int, string> note)
    {
        _note = note;
        _utf8 = version is not null && version.StartsWith("AC", StringComparison.Ordinal)
            && int.TryParse(version.AsSpan(2), NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= 1021;
        _declared = codePage is null ? null : Find(codePage);
        if (codePage is not null && _declared is null && !_utf8)
            note(0, $"The code page '{codePage}' ($DWGCODEPAGE) is not known; names are read as UTF-8 or Windows-1252.");
    }

    /// <summary>The text of a name.</summary>
    public string Decode(DxfTag tag)
    {
        var bytes = tag.Value.Span;
        var text = System.Text.Ascii.IsValid(bytes) ? Encoding.ASCII.GetString(bytes) : DecodeBytes(bytes, tag.Line);
        return text.Contains("\\U+", StringComparison.Ordinal) ? Escape().Replace(text, Unescape) : text;
    }

    private string DecodeBytes(ReadOnlySpan<byte> bytes, int line)
    {
        if (!_utf8 && _declared is not null) return _declared.GetString(bytes);
        try
        {
            var text = StrictUtf8.GetString(bytes);
            if (!_utf8) NoteOnce(line, "The drawing holds letters beyond ASCII but names no known code page; they are read as UTF-8, which they fit.");
            return text;
        }
        catch (DecoderFallbackException)
        {
            NoteOnce(line, "Letters beyond ASCII are not UTF-8; they are read in the code page of the drawing, Windows-1252 where it names none.");
            return (_declared ?? CodePagesEncodingProvider.Instance.GetEncoding(1252)!).GetString(bytes);
        }
    }

    private void NoteOnce(int line, string text)
    {
        if (_noted) return;
        _noted = true;
        _note(line, text);
    }

    private static string Unescape(Match m) =>
        ((char)ushort.Parse(m.Groups[1].ValueSpan, NumberStyles.HexNumber, CultureInfo.InvariantCulture)).ToString();

    private static Encoding? Find(string codePage)
    {
        var name = codePage.ToLowerInvariant();
        var number = Digits().Match(name) is { Success: true } m
            ? int.Parse(m.ValueSpan, NumberStyles.None, CultureInfo.InvariantCulture) : 0;
        var page = name switch
        {
            _ when name.Contains("8859", StringComparison.Ordinal) =>
                LastDigits().Match(name) is { Success: true } part && name.IndexOfAny(['-', '_'], name.IndexOf("8859", StringComparison.Ordinal)) > 0
                    ? 28590 + int.Parse(part.ValueSpan, NumberStyles.None, CultureInfo.InvariantCulture) : 28591,
            _ when name.StartsWith("ansi", StringComparison.Ordinal) || name.StartsWith("dos", StringComparison.Ordinal)
                || name.StartsWith("cp", StringComparison.Ordinal) || name.StartsWith("windows", StringComparison.Ordinal) => number,
            "utf-8" or "utf8" => 65001,
            "ascii" => 20127,
            "mac-roman" => 10000,
            "big5" => 950,
            "gb2312" => 936,
            "ksc5601" => 949,
            "johab" => 1361,
            _ => 0,
        };
        if (page == 65001) return Encoding.UTF8;
        return page == 0 ? null : CodePagesEncodingProvider.Instance.GetEncoding(page) ?? BuiltIn(page);
    }

    private static Encoding? BuiltIn(int page) => page switch { 28591 => Encoding.Latin1, 20127 => Encoding.Latin1, _ => null };

    [GeneratedRegex(@"\\U\+([0-9A-Fa-f]{4})")]
    private static partial Regex Escape();

    [GeneratedRegex(@"[0-9]{1,5}")]
    private static partial Regex Digits();

    [GeneratedRegex(@"[0-9]{1,2}$")]
    private static partial Regex LastDigits();
}
