using PatternKit.Geometry.Numerics;
using PatternKit.Sheets.Pictures;
using SkiaSharp;

namespace PatternKit.Sheets.Tests;

/// <summary>Pictures are decoded again and checked against the projection of a body of known size.</summary>
public sealed class BodyPictureTests
{
    [Fact]
    public void A_cylinder_covers_the_share_of_the_picture_that_its_projection_has()
    {
        const double Radius = 30, Height = 25;
        var picture = BodyPicture.Of(SampleBodies.Frustum(Radius, Radius, Height, 180));
        using var bitmap = SKBitmap.Decode(picture.Png);
        Assert.Equal(1200, bitmap.Width);
        // A cylinder seen at the elevation e: the disc squeezed by sin e, and the side 2r by h cos e.
        var (sin, cos) = Math.SinCos(36 * Math.PI / 180);
        var expected = ((Math.PI * Radius * Radius * sin) + (2 * Radius * Height * cos)) * picture.PixelsPerMillimetre * picture.PixelsPerMillimetre;
        var covered = bitmap.Pixels.Count(p => p.Red < 250);
        // The outline adds its width: a pixel or so along the rim.
        Assert.InRange(covered / expected, 1.0, 1.01);
    }

    [Fact]
    public void The_middle_is_grey_and_the_corner_is_paper()
    {
        var picture = BodyPicture.Of(SampleBodies.Frustum(40, 38, 20, 48));
        using var bitmap = SKBitmap.Decode(picture.Png);
        Assert.InRange(bitmap.GetPixel(600, bitmap.Height / 2).Red, 100, 245);
        Assert.Equal(255, bitmap.GetPixel(1, 1).Red);
    }

    [Fact]
    public void Creases_show_and_hidden_ones_do_not()
    {
        // A square block, corners at 45 degrees to the axes. Of its twelve edges three meet at the hidden corner.
        var block = SampleBodies.Frustum(40, 40, 30, 4).Mapped(Turned);
        var picture = BodyPicture.Of(block);
        using var bitmap = SKBitmap.Decode(picture.Png);
        var visible = Dark(bitmap, Place(picture, bitmap, block, Turned(new(40, 0, 15))));
        var hidden = Dark(bitmap, Place(picture, bitmap, block, Turned(new(-40, 0, 15))));
        Assert.True(visible, "The upright edge towards the viewer is not drawn.");
        Assert.False(hidden, "The upright edge behind is drawn.");

        static Vec3 Turned(Vec3 p)
        {
            var (s, c) = Math.SinCos(-58 * Math.PI / 180);
            return new((c * p.X) - (s * p.Y), (s * p.X) + (c * p.Y), p.Z);
        }
    }

    [Fact]
    public void The_nearer_triangle_covers_the_farther_in_any_order()
    {
        foreach (var nearFirst in new[] { true, false })
        {
            var raster = new DepthRaster(8, 8);
            if (nearFirst) Full(raster, 5, 50);
            Full(raster, 1, 200);
            if (!nearFirst) Full(raster, 5, 50);
            Assert.All(raster.Halved(), p => Assert.Equal(50, p));
        }

        static void Full(DepthRaster raster, double depth, byte grey)
        {
            raster.Fill(new(0, 0, depth), new(8, 0, depth), new(8, 8, depth), grey);
            raster.Fill(new(0, 0, depth), new(8, 8, depth), new(0, 8, depth), grey);
        }
    }

    [Theory]
    [InlineData(4, false)]
    [InlineData(10, true)]
    [InlineData(12, true)]
    public void A_line_shows_on_and_before_a_surface_and_not_behind_it(double depth, bool shows)
    {
        var raster = new DepthRaster(20, 20);
        raster.Fill(new(0, 0, 10), new(20, 0, 10), new(20, 20, 10), 200);
        raster.Fill(new(0, 0, 10), new(20, 20, 10), new(0, 20, 10), 200);
        raster.Line(new(4, 10, depth), new(16, 10, depth), 2, 0, 3);
        Assert.Equal(shows ? 0 : 200, raster.Halved()[(5 * 10) + 5]);
    }

    private static (int X, int Y) Place(BodyPicture picture, SKBitmap bitmap, Geometry.Mesh.TriangleMesh mesh, Vec3 p)
    {
        var box = Box3.Empty;
        foreach (var v in mesh.Vertices) box = box.With(Camera.Above.See(v));
        var middle = box.Low + (0.5 * box.Size);
        var seen = Camera.Above.See(p) - middle;
        return ((int)(600 + (picture.PixelsPerMillimetre * seen.X)), (int)((bitmap.Height / 2.0) - (picture.PixelsPerMillimetre * seen.Y)));
    }

    private static bool Dark(SKBitmap bitmap, (int X, int Y) at) =>
        Enumerable.Range(-2, 5).Any(dx => bitmap.GetPixel(at.X + dx, at.Y).Red < 90);
}
