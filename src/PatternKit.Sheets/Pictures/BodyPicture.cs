using System.Runtime.InteropServices;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
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
    private const int Margin = 24;

    /// <summary>
    /// Draws a body as it lies on the print bed: parallel light, one grey a facet, creases and silhouettes as dark
    /// lines where they show. Drawn at twice the size and averaged, so that edges are smooth.
    /// </summary>
    public static BodyPicture Of(TriangleMesh mesh)
    {
        var seen = new Vec3[mesh.Vertices.Length];
        var box = Box3.Empty;
        for (var i = 0; i < seen.Length; i++) box = box.With(seen[i] = Camera.See(mesh.Vertices[i]));
        if (mesh.Facets.IsEmpty || !(box.Size.X > 0) || !(box.Size.Y > 0)) throw new ArgumentException("A body without extent has no picture.", nameof(mesh));
        var scale = (PictureWidth - (2 * Margin)) / box.Size.X;
        // A tall thin body would make a picture longer than a page.
        scale = Math.Min(scale, (PictureWidth - (2 * Margin)) / box.Size.Y);
        var height = Math.Max(200, (int)Math.Ceiling(scale * box.Size.Y) + (2 * Margin));
        var centre = box.Low + (0.5 * box.Size);
        var raster = new DepthRaster(2 * PictureWidth, 2 * height);
        for (var i = 0; i < seen.Length; i++)
            seen[i] = new(
                PictureWidth + (2 * scale * (seen[i].X - centre.X)), height - (2 * scale * (seen[i].Y - centre.Y)), 2 * scale * (seen[i].Z - centre.Z));
        Draw(raster, mesh, seen);
        return new(Encode(raster.Halved(), PictureWidth, height), PictureWidth, height, scale);
    }

    private static void Draw(DepthRaster raster, TriangleMesh mesh, Vec3[] seen)
    {
        var normals = new Vec3[mesh.Facets.Length];
        for (var f = 0; f < normals.Length; f++)
        {
            var facet = mesh.Facets[f];
            var area = mesh.AreaNormal(facet);
            normals[f] = (1 / area.Length) * area;
            if (!(Vec3.Dot(normals[f], Camera.Toward) > 0)) continue;
            raster.Fill(seen[facet.A], seen[facet.B], seen[facet.C], Shade(normals[f]));
        }

        foreach (var (a, b, kind) in FeatureEdges.Find(mesh, normals, Camera.Toward))
            raster.Line(seen[a], seen[b], kind == EdgeKind.Silhouette ? 2.0 : 1.4, kind == EdgeKind.Silhouette ? (byte)20 : (byte)48, 3);
    }

    // Light from the upper left over the shoulder; faces along the draw come out lightest, the right side darkest.
    private static byte Shade(Vec3 normal)
    {
        var key = Vec3.Dot(normal, Light);
        var fill = 0.5 + (0.5 * normal.Z);
        return (byte)Math.Clamp(112 + (96 * Math.Max(0, key)) + (32 * fill), 0, 244);
    }

    private static readonly Vec3 Light = Unit((1.0 * Camera.Toward) + (-0.55 * Camera.Right) + (0.75 * Camera.Up));

    private static Vec3 Unit(Vec3 v) => (1 / v.Length) * v;

    private static byte[] Encode(byte[] grey, int width, int height)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Gray8, SKAlphaType.Opaque));
        for (var row = 0; row < height; row++)
            Marshal.Copy(grey, row * width, bitmap.GetPixels() + (row * bitmap.RowBytes), width);
        using var pixels = bitmap.PeekPixels();
        using var data = pixels.Encode(new SKPngEncoderOptions(SKPngEncoderFilterFlags.Up, 6))
            ?? throw new InvalidOperationException("The picture could not be encoded.");
        return data.ToArray();
    }
}
