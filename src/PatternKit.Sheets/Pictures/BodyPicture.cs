using System.Runtime.InteropServices;
using PatternKit.Geometry.Mesh;
using SkiaSharp;

namespace PatternKit.Sheets.Pictures;

/// <summary>A shaded picture of a body.</summary>
/// <param name="Png">The picture, greys on white.</param>
/// <param name="Width">Pixels across.</param>
/// <param name="Height">Pixels down.</param>
/// <param name="PixelsPerMillimetre">Scale in the picture plane, for the scale bar.</param>
internal sealed record BodyPicture(byte[] Png, int Width, int Height, double PixelsPerMillimetre)
{
    private const int PictureWidth = 1200;
    private const int LeastHeight = 200;

    /// <summary>Draws a body as it lies on the print bed, from above.</summary>
    public static BodyPicture Of(TriangleMesh mesh, int width = PictureWidth) => DepthRaster.InTurn(() => Drawn(mesh, width));

    private static BodyPicture Drawn(TriangleMesh mesh, int width)
    {
        using var view = new BodyView(mesh, Camera.Above, width, LeastHeight, false);
        view.DrawEdges();
        using var bitmap = Grey(view);
        using var pixels = bitmap.PeekPixels();
        using var data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Up, 6))
            ?? throw new InvalidOperationException("The picture could not be encoded.");
        return new(data.ToArray(), view.Width, view.Height, view.PixelsPerMillimetre);
    }

    /// <summary>The pixels of a view, to be disposed by the caller.</summary>
    public static SKBitmap Grey(BodyView view)
    {
        var grey = view.Halved();
        var bitmap = new SKBitmap(new SKImageInfo(view.Width, view.Height, SKColorType.Gray8, SKAlphaType.Opaque));
        for (var row = 0; row < view.Height; row++)
            Marshal.Copy(grey, row * view.Width, bitmap.GetPixels() + (row * bitmap.RowBytes), view.Width);
        return bitmap;
    }
}
