using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The plan of a body that is cut, with its seams and the places of its pieces.</summary>
internal static class CutFigure
{
    private const double Margin = 8;
    private const double Tallest = 120;

    public static XElement Make(Kit kit, CutBody cut, SheetNumbers numbers)
    {
        var (low, high) = PartingPlan.Box(cut.Plan.Body);
        var scale = PaperScale.For(high.X - low.X, high.Y - low.Y, DrawingFrame.Width_mm - (2 * Margin), Tallest);
        var drawn = scale.Ratio * (high - low);
        var sheet = new PlanSheet(low, high, scale, (DrawingFrame.Width_mm - drawn.X) / 2, Margin);
        var words = $"Plan of {cut.Whole.Name} with its cuts, seen from above";
        return Tag("figure",
            FigureBox(words,
                DrawingFrame.Draw(
                    kit, numbers, new($"cuts-{cut.Whole.Name}", $"Cuts of {cut.Whole.Name}", words), scale, drawn.Y + (2 * Margin), "",
                    sheet.Region(cut.Plan.Body, "footprint"),
                    sheet.Region(cut.Plan.Body, "cope-flat"),
                    cut.Plan.Seams.Select(s => sheet.Polyline(s, "cope-outline")),
                    cut.Pieces.Select((p, i) => Name(sheet, cut, p, i + 1)))),
            Tag("figcaption", words + "; heavy lines are the cuts, numbers those of the pieces."));
    }

    /// <summary>Narrow pieces have no room for more than their number in the table.</summary>
    private static XElement Name(PlanSheet sheet, CutBody cut, KitBody piece, int number)
    {
        var at = sheet.Paper(cut.Plan.Body.Intersection(cut.Plan.Pieces.First(p => p.Place == cut.PlaceOf(piece)).Within).InnerPoint);
        return PlanSheet.Letters(at.X, at.Y + (PlanSheet.TextHeight / 2), SheetNumbers.Whole(number), "middle");
    }
}
