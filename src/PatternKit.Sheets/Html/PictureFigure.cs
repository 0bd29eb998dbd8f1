using System.Xml.Linq;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>Pictures as figures of the sheet.</summary>
internal static class PictureFigure
{
    private const double BarBand = 64;

    /// <summary>A body with a scale bar below.</summary>
    /// <param name="id">In the sheet, and the name of its file.</param>
    /// <param name="words">What is seen.</param>
    /// <param name="picture">The picture.</param>
    /// <param name="numbers">For the bar.</param>
    public static XElement Make(string id, string words, BodyPicture picture, SheetNumbers numbers) => Tag("figure",
        Svg(id, words, picture.Png, picture.Width, picture.Height, picture.Height + BarBand, ScaleBar.Draw(24, picture.Height + 44, 420, picture.PixelsPerMillimetre, 40, numbers)),
        Tag("figcaption", words + ". The bar holds in the plane of the picture."));

    /// <summary>A page of pictures as an SVG element.</summary>
    public static XElement Page(string id, string words, PagePicture page)
    {
        // Letters come out at one size, however many panels there are.
        const double mmPerPixel = 0.116;
        return Svg(id, words, page.Png, page.Width, page.Height, page.Height, Set("width", $"{Number(mmPerPixel * page.Width)}mm"), Set("height", $"{Number(mmPerPixel * page.Height)}mm"));
    }

    private static XElement Svg(string id, string words, byte[] png, int width, int height, double whole, params object?[] content) =>
        Shape("svg", Set("viewBox", $"0 0 {Number(width)} {Number(whole)}"), Set("role", "img"), Set("aria-labelledby", id),
            content.OfType<XAttribute>(),
            Shape("title", Set("id", id), words),
            Shape("image", Set("x", 0), Set("y", 0), Set("width", width), Set("height", height), Set("href", "data:image/png;base64," + Convert.ToBase64String(png))),
            content.Where(c => c is not XAttribute));
}
