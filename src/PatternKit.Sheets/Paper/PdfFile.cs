using SkiaSharp;

namespace PatternKit.Sheets.Paper;

/// <summary>A page format, mm.</summary>
internal sealed record PaperFormat(string Name, double Width_mm, double Height_mm)
{
    /// <summary>ISO 216.</summary>
    public static PaperFormat A4 { get; } = new("A4", 210, 297);

    /// <summary>ANSI/ASME Y14.1, size A: 8.5 × 11 in.</summary>
    public static PaperFormat Letter { get; } = new("Letter", 215.9, 279.4);
}

/// <summary>
/// Writes PDF files: vectors, fonts embedded, text that can be searched. Canvases have the millimetre as unit, the origin at the upper left.
/// No date and no number that differs from run to run is written.
/// </summary>
internal static class PdfFile
{
    private const float PointsPerMillimetre = 72 / 25.4f;

    /// <summary>The bytes of a file.</summary>
    /// <param name="title">Shown by readers.</param>
    /// <param name="format">Of all pages.</param>
    /// <param name="pages">What paints each.</param>
    public static byte[] Write(string title, PaperFormat format, IEnumerable<Action<SKCanvas>> pages)
    {
        using var bytes = new MemoryStream();
        using (var stream = new SKManagedWStream(bytes))
        using (var document = SKDocument.CreatePdf(stream, new SKDocumentPdfMetadata { Title = title, Creator = "PatternKit", Producer = "PatternKit", RasterDpi = 300, EncodingQuality = 101 }))
        {
            foreach (var page in pages)
            {
                var canvas = document.BeginPage((float)(format.Width_mm * PointsPerMillimetre), (float)(format.Height_mm * PointsPerMillimetre));
                canvas.Scale(PointsPerMillimetre);
                page(canvas);
                document.EndPage();
            }

            document.Close();
        }

        return bytes.ToArray();
    }
}
