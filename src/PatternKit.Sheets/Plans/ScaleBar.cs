using System.Xml.Linq;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>A scale bar of a round length, for pictures that are shown at any size.</summary>
internal static class ScaleBar
{
    /// <summary>Draws the bar with its length written beside it.</summary>
    /// <param name="x">Left end, drawing units.</param>
    /// <param name="y">Foot of the bar.</param>
    /// <param name="longest">Most drawing units that it may take.</param>
    /// <param name="unitsPerMillimetre">Scale of the drawing.</param>
    /// <param name="textHeight">Height of the letters.</param>
    /// <param name="numbers">Whose first unit the bar has.</param>
    public static XElement Draw(double x, double y, double longest, double unitsPerMillimetre, double textHeight, SheetNumbers numbers)
    {
        var unit = numbers.Inches ? 25.4 : 1;
        var length = PaperScale.RoundLength(longest / unitsPerMillimetre / unit);
        var width = length * unit * unitsPerMillimetre;
        var height = textHeight / 2.5;
        var half = width / 2;
        return Shape("g", Set("class", "scale-bar"),
            Shape("rect", Set("x", x), Set("y", y - height), Set("width", half), Set("height", height), Set("class", "ink")),
            Shape("rect", Set("x", x + half), Set("y", y - height), Set("width", half), Set("height", height), Set("class", "paper")),
            Shape("rect", Set("x", x), Set("y", y - height), Set("width", width), Set("height", height),
                Set("fill", "none"), Set("stroke", "#1a1c1e"), Set("stroke-width", textHeight / 14)),
            Shape("text", Set("x", x + width + (textHeight / 2)), Set("y", y), Set("font-size", textHeight),
                $"{SheetNumbers.Short(length)}\u00A0{(numbers.Inches ? "in" : "mm")}"));
    }
}
