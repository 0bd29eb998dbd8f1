using System.Globalization;

namespace PatternKit.Exchange.Dxf;

/// <summary>Cuts an ASCII DXF file into groups: a line with the code, a line with the value.</summary>
internal static class DxfTagReader
{
    /// <summary>All groups up to the end-of-file group, comments (999) left out.</summary>
    /// <exception cref="InputException">A group code that is none, or a file that ends before its EOF group.</exception>
    public static List<DxfTag> Read(ReadOnlyMemory<byte> content, string source)
    {
        var lines = new LineCutter(content);
        var tags = new List<DxfTag>();
        while (lines.Next(out var codeText))
        {
            var codeLine = lines.Line;
            if (!int.TryParse(codeText.Span, NumberStyles.Integer, CultureInfo.InvariantCulture, out var code) || code is < -5 or > 1071)
                throw new InputException(source, $"line {codeLine}",
                    $"found {DxfTag.Show(codeText.Span)} where a group code (a whole number from -5 to 1071) must stand. The file is damaged or is no DXF; export it again.");
            if (!lines.Next(out var value)) throw CutShort(source, codeLine);
            var tag = new DxfTag(code, lines.Line, value);
            if (tag.Is(0, "EOF"u8)) return tags;
            if (code != 999) tags.Add(tag);
        }

        throw CutShort(source, lines.Line);
    }

    private static InputException CutShort(string source, int line) => new(source, $"line {line}",
        "the file ends here without the EOF that closes a DXF: it was cut short. Copy or export it again.");

    /// <summary>Lines ended by CR LF, LF, or (in a file without any LF) CR.</summary>
    private struct LineCutter
    {
        private readonly ReadOnlyMemory<byte> _content;
        private readonly byte _end;
        private int _at;

        public LineCutter(ReadOnlyMemory<byte> content)
        {
            _content = content;
            _end = content.Span.Contains((byte)'\n') ? (byte)'\n' : (byte)'\r';
        }

        public int Line { get; private set; }

        public bool Next(out ReadOnlyMemory<byte> line)
        {
            line = default;
            if (_at >= _content.Length) return false;
            var rest = _content.Span[_at..];
            var length = rest.IndexOf(_end);
            if (length < 0) length = rest.Length;
            line = _content.Slice(_at, length);
            while (line.Length > 0 && line.Span[^1] == '\r') line = line[..^1];
            _at += length + 1;
            Line++;
            return true;
        }
    }
}
