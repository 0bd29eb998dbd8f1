using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>
/// The plan of the pattern with a leader from every finding that has a place to its number, which stands beside the plan. Leaders end in a
/// dot inside the outline (ISO 128-2); numbers go by the order of the findings, so nothing depends on colour.
/// </summary>
internal static class FindingPlan
{
    private const double Side = 22;
    private const double Above = 6;
    private const double Tallest = 150;
    private const double BalloonRadius = 3;
    private const double BalloonDistance = 7.5;

    /// <summary>The drawing; null where no finding has a place.</summary>
    /// <param name="kit">The kit.</param>
    /// <param name="findings">Its findings in the order of their numbers, from 1.</param>
    /// <param name="numbers">Of the sheet.</param>
    public static XElement? Draw(Kit kit, ImmutableArray<Finding> findings, SheetNumbers numbers)
    {
        var footprint = kit.Plan.CopeOutline.Union(kit.Plan.DragOutline);
        var placed = findings.Select((f, i) => (Number: i + 1, Place: f.At_mm)).Where(f => f.Place is not null)
            .Select(f => (f.Number, At: kit.Scale * f.Place!.Value.Plan)).ToArray();
        if (placed.Length == 0 || footprint.IsEmpty) return null;
        var (low, high) = PartingPlan.Box(footprint);
        foreach (var (_, at) in placed) (low, high) = (new(Math.Min(low.X, at.X), Math.Min(low.Y, at.Y)), new(Math.Max(high.X, at.X), Math.Max(high.Y, at.Y)));
        var scale = PaperScale.For(high.X - low.X, high.Y - low.Y, DrawingFrame.Width_mm - (2 * Side), Tallest);
        var drawn = scale.Ratio * (high - low);
        var sheet = new PlanSheet(low, high, scale, (DrawingFrame.Width_mm - drawn.X) / 2, Above);

        var points = placed.Select(f => (f.Number, At: sheet.Paper(f.At))).ToArray();
        var left = points.Where(p => p.At.X < DrawingFrame.Width_mm / 2).OrderBy(p => p.At.Y).ToArray();
        var right = points.Where(p => p.At.X >= DrawingFrame.Width_mm / 2).OrderBy(p => p.At.Y).ToArray();
        var height = Math.Max(Above + drawn.Y, Above + (BalloonDistance * Math.Max(left.Length, right.Length))) + Above;
        return DrawingFrame.Draw(
            kit, numbers, new("places", "Places of the findings", $"Plan with the places of {SheetNumbers.Whole(placed.Length)} findings, numbered as below"), scale, height, "pattern sizes",
            sheet.Region(footprint, "footprint"),
            kit.Plan.Flats.Where(f => !f.Region.IsEmpty).Select(f => sheet.Region(f.Region, f.Half == MouldHalf.Cope ? "cope-flat" : "drag-flat")),
            sheet.Region(footprint, "cope-outline"),
            Leaders(left, Side - 12, height),
            Leaders(right, DrawingFrame.Width_mm - Side + 12, height));
    }

    /// <summary>Numbers one below the other, each as near to the height of its place as the others let it.</summary>
    private static IEnumerable<XElement> Leaders((int Number, Vec2 At)[] points, double x, double height)
    {
        var rows = LeaderRows.Spread([.. points.Select(p => p.At.Y)], BalloonRadius + 1, height - BalloonRadius - 1, BalloonDistance);
        for (var i = 0; i < points.Length; i++)
        {
            var (number, at) = points[i];
            var balloon = new Vec2(x, rows[i]);
            var edge = balloon + (BalloonRadius * (at - balloon).Normalized());
            yield return Shape("g",
                PlanSheet.Line(edge.X, edge.Y, at.X, at.Y, "thin"),
                Shape("circle", Set("class", "ink"), Set("cx", at.X), Set("cy", at.Y), Set("r", 0.8)),
                Shape("circle", Set("class", "balloon"), Set("cx", x), Set("cy", rows[i]), Set("r", BalloonRadius)),
                PlanSheet.Letters(x, rows[i] + (0.36 * PlanSheet.TextHeight), SheetNumbers.Whole(number), "middle"));
        }
    }
}
