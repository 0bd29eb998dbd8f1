using System.Globalization;
using System.Xml.Linq;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Html;

/// <summary>
/// Elements of HTML and SVG as XML values. Escaping is left to the XML writer; strings are cleaned on the way in, so that
/// no text can become markup or break the file.
/// </summary>
internal static class Markup
{
    /// <summary>Namespace of HTML written as XML.</summary>
    public static readonly XNamespace Xhtml = "http://www.w3.org/1999/xhtml";

    /// <summary>Namespace of SVG.</summary>
    public static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    /// <summary>An HTML element; strings become text, null is nothing.</summary>
    public static XElement Tag(string name, params object?[] content) => Make(Xhtml + name, content);

    /// <summary>An HTML element with a class.</summary>
    public static XElement Classed(string name, string className, params object?[] content) =>
        Make(Xhtml + name, [Set("class", className), .. content]);

    /// <summary>An SVG element.</summary>
    public static XElement Shape(string name, params object?[] content) => Make(Svg + name, content);

    /// <summary>An attribute.</summary>
    public static XAttribute Set(string name, string value) => new(name, CleanText.Of(value));

    /// <summary>An attribute that is a number of a drawing: three decimals are a micrometre of paper.</summary>
    public static XAttribute Set(string name, double value) => new(name, Number(value));

    /// <summary>A number of a drawing.</summary>
    public static string Number(double value) => (Math.Round(value, 3) + 0.0).ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>A drawing in a box that scrolls where the screen is narrow, reached by the keyboard.</summary>
    public static XElement FigureBox(string name, XElement svg) =>
        Classed("section", "figure-box", Set("aria-label", name), Set("tabindex", "0"), svg);

    /// <summary>A table inside a box that scrolls by itself on narrow screens.</summary>
    /// <param name="caption">Says what the table holds.</param>
    /// <param name="heads">Heads of the columns; those that begin with '#' are numbers, set to the right.</param>
    /// <param name="rows">Cells; the first of each is the head of its row.</param>
    public static XElement Table(string caption, string[] heads, IEnumerable<object?[]> rows) =>
        Classed("section", "wide", Set("aria-label", caption), Set("tabindex", "0"),
            Tag("table", heads.Length == 2 ? Set("class", "pair") : null,
                Tag("caption", caption),
                Tag("thead", Tag("tr", heads.Select(h => Cell("th", h, h.TrimStart('#'), Set("scope", "col"))))),
                Tag("tbody", rows.Select(row => Tag("tr", row.Select((cell, i) =>
                    i == 0 ? Cell("th", heads[i], cell, Set("scope", "row")) : Cell("td", heads[i], cell)))))));

    private static XElement Cell(string name, string head, object? content, XAttribute? scope = null)
    {
        var cell = Tag(name, scope, content ?? "");
        if (head.StartsWith('#')) cell.SetAttributeValue("class", "number");
        return cell;
    }

    private static XElement Make(XName name, object?[] content)
    {
        var element = new XElement(name);
        foreach (var item in content) Add(element, item);
        return element;
    }

    private static void Add(XElement element, object? item)
    {
        switch (item)
        {
            case null:
                break;
            case string text:
                element.Add(new XText(CleanText.Of(text)));
                break;
            case IEnumerable<object?> items when item is not XElement:
                foreach (var each in items) Add(element, each);
                break;
            default:
                element.Add(item);
                break;
        }
    }
}
