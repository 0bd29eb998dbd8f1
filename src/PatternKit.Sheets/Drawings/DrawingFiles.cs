using System.Text;
using System.Xml.Linq;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Paper;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Drawings;

/// <summary>The drawings of the sheet as SVG files and its pictures as PNG files, named by what they show.</summary>
internal static class DrawingFiles
{
    private const string Png = "data:image/png;base64,";

    /// <summary>One file for every drawing and picture of the document.</summary>
    public static IEnumerable<KitFile> Of(XElement document)
    {
        foreach (var svg in document.Descendants(Svg + "svg"))
        {
            if ((string?)svg.Element(Svg + "title")?.Attribute("id") is not { } id) continue;
            var name = id.EndsWith("-title", StringComparison.Ordinal) ? id[..^"-title".Length] : id;
            if (svg.Element(Svg + "image") is { } image)
                yield return new(name + ".png", Convert.FromBase64String(((string)image.Attribute("href")!)[Png.Length..]));
            else
                yield return new($"drawing-{name}.svg", Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + Alone(svg).ToString(SaveOptions.DisableFormatting) + "\n"));
        }
    }

    // Within the sheet the styles are the sheet's.
    private static XElement Alone(XElement svg)
    {
        var alone = new XElement(svg);
        alone.AddFirst(Shape("style", "\ntext { font-family: sans-serif; fill: #1a1c1e; }\n" + DrawingStyle.Css()));
        return alone;
    }
}
