using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The title block of a drawing (fields of ISO 7200): title, what is drawn, metal, scale, revision, unit, projection.</summary>
internal static class TitleBlock
{
    /// <summary>Its height on the paper.</summary>
    public const double Height_mm = 22;

    private const double Name_mm = 2;
    private const double Value_mm = 3;

    /// <summary>Draws it.</summary>
    public static XElement Draw(Kit kit, string what, PaperScale scale, double x, double y, double width, PaperFont font)
    {
        var half = y + (Height_mm / 2);
        double[] columns = [0, 0.36, 0.6, 0.74, 1];
        double X(int column) => x + (columns[column] * width);
        return Shape("g",
            Shape("rect", Set("class", "frame"), Set("x", x), Set("y", y), Set("width", width), Set("height", Height_mm)),
            PlanSheet.Line(x, half, X(3), half, "thin"),
            Enumerable.Range(1, 3).Select(c => PlanSheet.Line(X(c), y, X(c), y + Height_mm, "thin")),
            Field("Title", ShopSheet.Title(kit), 0, y), Field("Drawing", what, 0, half),
            Field("Metal", kit.Job.Alloy, 1, y), Field("Revision (of the input)", Revision.Of(kit.Job), 1, half),
            Field("Scale at full size", scale.ToString(), 2, y), Field("Sizes", kit.Job.Unit == Patterns.LengthUnit.Inch ? "in (mm)" : "mm", 2, half),
            PlanSheet.Letters(X(3) + 1.5, y + 3.2, kit.Job.Projection == Patterns.ViewAngle.First ? "First-angle projection" : "Third-angle projection", size: Name_mm),
            ProjectionSymbol.Draw(X(3) + ((X(4) - X(3) - 18) / 2), half - 3, kit.Job.Projection));

        XElement[] Field(string name, string value, int column, double top) =>
        [
            PlanSheet.Letters(X(column) + 1.5, top + 3.2, name, size: Name_mm),
            PlanSheet.Letters(X(column) + 1.5, top + 8.2, font.Cut(font.Shown(CleanText.Of(value)), Value_mm, (X(column + 1) - X(column) - 4) / ViewDrawing.Wider), size: Value_mm),
        ];
    }
}
