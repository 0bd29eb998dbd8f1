using System.Text;

namespace PatternKit.Exchange;

/// <summary>Tells files that people mistake for a mesh by how they begin.</summary>
internal static class FileKind
{
    private static readonly (string Start, string Kind)[] Known =
    [
        ("PK\u0003\u0004", "a ZIP archive (a 3MF file is one)"),
        ("PK\u0005\u0006", "an empty ZIP archive"),
        ("%PDF", "a PDF document"),
        ("ISO-10303-21", "a STEP file"),
        ("glTF", "a glTF file"),
        ("ply\n", "a PLY file"),
        ("ply\r", "a PLY file"),
        ("OFF\n", "an OFF file"),
        ("OFF\r", "an OFF file"),
        ("<?xml", "an XML file"),
        ("<svg", "an SVG drawing"),
        ("<!DOCTYPE", "a web page"),
        ("<html", "a web page"),
        ("AutoCAD Binary DXF", "a binary DXF drawing"),
        ("AC10", "a DWG drawing"),
        ("\u00ff\u00fe", "text in UTF-16 (save it as plain text)"),
        ("\u00fe\u00ff", "text in UTF-16 (save it as plain text)"),
        ("\u0089PNG", "a PNG picture"),
        ("\u00ff\u00d8\u00ff", "a JPEG picture"),
        ("\u001f\u008b", "a gzip archive"),
        ("Rar!", "a RAR archive"),
        ("7z\u00bc\u00af", "a 7z archive"),
    ];

    /// <summary>The kind with its article, or null where the beginning says nothing.</summary>
    public static string? Other(byte[] content)
    {
        var start = Encoding.Latin1.GetString(content, 0, Math.Min(content.Length, 32));
        foreach (var (text, kind) in Known)
            if (start.StartsWith(text, StringComparison.Ordinal)) return kind;
        var trimmed = start.TrimStart();
        if (trimmed.StartsWith("0\nSECTION", StringComparison.Ordinal) || trimmed.StartsWith("0\r\nSECTION", StringComparison.Ordinal)) return "a DXF drawing";
        return null;
    }
}
