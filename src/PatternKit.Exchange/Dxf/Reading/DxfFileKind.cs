using System.Buffers.Binary;

namespace PatternKit.Exchange.Dxf;

/// <summary>Tells an ASCII DXF from what else may bear its name.</summary>
internal static class DxfFileKind
{
    /// <summary>The bytes of the text, a UTF-8 byte order mark taken off.</summary>
    /// <exception cref="InputException">The file is empty, a binary DXF, or of another kind.</exception>
    public static ReadOnlyMemory<byte> Demand(byte[] content, string source)
    {
        if (content.Length == 0) throw new InputException(source, "", "the file is empty. Export the drawing again.");
        var text = content.AsMemory();
        if (content is [0xEF, 0xBB, 0xBF, ..]) text = text[3..];
        var found = OtherKind(content);
        if (found is not null)
            throw new InputException(source, "", $"this is {found}, not an ASCII DXF drawing. Save or export the drawing as ASCII DXF (R12 or later).");
        var zero = text.Span.IndexOf((byte)0);
        if (zero >= 0)
            throw new InputException(source, $"byte {zero + content.Length - text.Length}", "found a zero byte, which no ASCII DXF holds: the file is binary or damaged. Export the drawing as ASCII DXF.");
        return text;
    }

    private static string? OtherKind(byte[] content)
    {
        ReadOnlySpan<byte> c = content;
        if (c.StartsWith("AutoCAD Binary DXF"u8)) return "a binary DXF";
        if (c.Length > 6 && c.StartsWith("AC10"u8) && c[6] == 0) return "a DWG drawing";
        if (c.StartsWith("PK\u0003\u0004"u8) || c.StartsWith("PK\u0005\u0006"u8)) return "a ZIP archive (3MF files are of that kind)";
        if (c is [0x89, (byte)'P', (byte)'N', (byte)'G', ..]) return "a PNG picture";
        if (c is [0xFF, 0xD8, 0xFF, ..]) return "a JPEG picture";
        if (c.StartsWith("GIF8"u8)) return "a GIF picture";
        if (c.StartsWith("%PDF"u8)) return "a PDF document";
        if (c.StartsWith("%!PS"u8)) return "a PostScript document";
        if (c.StartsWith("ISO-10303-21"u8)) return "a STEP model";
        if (c is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..]) return "a text in UTF-16";
        var text = c is [0xEF, 0xBB, 0xBF, ..] ? c[3..] : c;
        text = text.TrimStart(" \t\r\n"u8);
        if (text.StartsWith("<"u8)) return "an XML document (SVG files are of that kind)";
        if (text.StartsWith("solid"u8) || IsBinaryStl(c)) return "an STL mesh";
        return text.Length == 0 ? "a file of blanks" : null;
    }

    // STL: 80 bytes of header, a count, 50 bytes a facet.
    private static bool IsBinaryStl(ReadOnlySpan<byte> c) =>
        c.Length >= 84 && c.Length == 84 + (50L * BinaryPrimitives.ReadUInt32LittleEndian(c[80..]));
}
