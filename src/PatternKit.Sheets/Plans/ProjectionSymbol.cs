using System.Xml.Linq;
using PatternKit.Patterns;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The symbol of the projection (ISO 128-3, ISO 5456-2): a truncated cone in two views, its end view on the right in first angle and on the left in third.</summary>
internal static class ProjectionSymbol
{
    /// <summary>Draws it into a box 18 mm wide and 8 mm high.</summary>
    public static XElement Draw(double x, double y, ViewAngle angle)
    {
        // In first angle the end view is what is seen from the left, where the small end is, so that both circles show.
        var (cone, end) = angle == ViewAngle.First ? (x + 1, x + 14) : (x + 9, x + 4);
        var middle = y + 4;
        return Shape("g",
            Shape("path", Set("class", "origin-axis"), Set("d", $"M{Number(cone)} {Number(middle - 1.5)}L{Number(cone + 7)} {Number(middle - 3)}L{Number(cone + 7)} {Number(middle + 3)}L{Number(cone)} {Number(middle + 1.5)}Z")),
            Shape("circle", Set("class", "origin-axis"), Set("cx", end), Set("cy", middle), Set("r", 3)),
            Shape("circle", Set("class", "origin-axis"), Set("cx", end), Set("cy", middle), Set("r", 1.5)),
            PlanSheet.Line(cone - 1, middle, cone + 8, middle, "centre"), PlanSheet.Line(end - 4, middle, end + 4, middle, "centre"), PlanSheet.Line(end, middle - 4, end, middle + 4, "centre"));
    }
}
