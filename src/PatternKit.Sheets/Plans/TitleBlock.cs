using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>
/// The title block of a drawing. Its fields are named as in ISO 7200, as far as a kit knows them; the date of issue is left for a hand, since the same input makes the same
/// sheet on every day. Scale, projection, metal and the standards of dimensions and tolerances stand with them.
/// </summary>
internal static class TitleBlock
{
    /// <summary>Its height on the paper.</summary>
    public const double Height_mm = Rows * Row_mm;

    private const int Rows = 3;
    private const double Row_mm = 8;
    private const double Name_mm = 1.8;
    private const double Value_mm = 2.8;
    private const string SheetClass = "sheet-number";

    // HTML has the reader's typeface, whose letters may be wider.
    private const double Wider = ViewDrawing.Wider;

    private static readonly double[] Columns = [0, 0.37, 0.62, 0.82, 1];

    /// <summary>Draws it; the number of the sheet is put in when all are there.</summary>
    /// <param name="kit">Of which.</param>
    /// <param name="what">What is drawn.</param>
    /// <param name="scale">At full size.</param>
    /// <param name="x">Left edge, paper mm.</param>
    /// <param name="y">Upper edge.</param>
    /// <param name="width">Of all.</param>
    /// <param name="font">To cut what is too long.</param>
    public static XElement Draw(Kit kit, string what, PaperScale scale, double x, double y, double width, PaperFont font)
    {
        double X(int column) => x + (Columns[column] * width);
        double Y(int row) => y + (row * Row_mm);
        var (last, first) = (Columns.Length - 2, kit.Job.Projection == Patterns.ViewAngle.First);
        return Shape("g",
            Shape("rect", Set("class", "frame"), Set("x", x), Set("y", y), Set("width", width), Set("height", Height_mm)),
            PlanSheet.Line(x, Y(1), X(last), Y(1), "thin"), PlanSheet.Line(x, Y(2), X(last + 1), Y(2), "thin"),
            Enumerable.Range(1, last).Select(c => PlanSheet.Line(X(c), y, X(c), y + Height_mm, "thin")),
            Field("Title", ShopSheet.Title(kit), 0, 0), Field("Supplementary title", what, 0, 1), Field("Identification number", kit.Job.Name, 0, 2),
            Field("Material", kit.Job.Alloy, 1, 0), Field("Dimensions", kit.Job.Unit == Patterns.LengthUnit.Inch ? "ISO 129-1, in (mm)" : "ISO 129-1, mm", 1, 1), Field("Tolerances of the casting", "ISO 8062, see sheet", 1, 2),
            Field("Revision index, of the input", Revision.Of(kit.Job), 2, 0), Field("Date of issue", "", 2, 1), Field("Scale at full size", scale.ToString(), 2, 2),
            PlanSheet.Letters(X(last) + 1.5, y + 2.6, first ? "First-angle projection" : "Third-angle projection", size: Name_mm),
            ProjectionSymbol.Draw(X(last) + ((X(last + 1) - X(last) - 18) / 2), y + 5, kit.Job.Projection),
            Field("Sheet number", " ", last, 2, SheetClass));

        XElement?[] Field(string name, string value, int column, int row, string? className = null) =>
        [
            PlanSheet.Letters(X(column) + 1.5, Y(row) + 2.6, name, size: Name_mm),
            value.Length == 0 ? null : Value(font.Cut(font.Shown(CleanText.Of(value)), Value_mm, (X(column + 1) - X(column) - 3) / Wider), X(column) + 1.5, Y(row) + 6.6, className),
        ];
    }

    /// <summary>Numbers the drawings of a document in their order.</summary>
    public static void Number(XElement document)
    {
        var fields = document.Descendants(Svg + "text").Where(t => (string?)t.Attribute("class") == SheetClass).ToArray();
        for (var i = 0; i < fields.Length; i++) fields[i].Value = $"{SheetNumbers.Whole(i + 1)} of {SheetNumbers.Whole(fields.Length)}";
    }

    private static XElement Value(string text, double x, double y, string? className)
    {
        var letters = PlanSheet.Letters(x, y, text, size: Value_mm);
        if (className is not null) letters.SetAttributeValue("class", className);
        return letters;
    }
}
