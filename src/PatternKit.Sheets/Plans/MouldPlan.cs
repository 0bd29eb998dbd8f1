using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The mould as seen from above: the inside of the flask, patterns and bars in it, and the vents by number.</summary>
internal static class MouldPlan
{
    private const double PaperWidth = 180;
    private const double Margin = 12;
    private const double BottomMargin = 14;
    private const double TallestPlan = 150;
    private const double Mark = 1.2;

    /// <summary>The drawing as an SVG element, and its scale when printed at full size.</summary>
    public static (XElement Svg, PaperScale Scale) Draw(Kit kit, PourPlan plan, SheetNumbers numbers)
    {
        var (low, high) = PartingPlan.Box(plan.Flask.Plan);
        var scale = PaperScale.For(high.X - low.X, high.Y - low.Y, PaperWidth - (2 * Margin), TallestPlan);
        var drawn = scale.Ratio * (high - low);
        var sheet = new PlanSheet(low, high, scale, (PaperWidth - drawn.X) / 2, Margin);
        var height = Margin + drawn.Y + BottomMargin + 8;
        var svg = Shape("svg",
            Set("viewBox", $"0 0 {Number(PaperWidth)} {Number(height)}"), Set("width", $"{Number(PaperWidth)}mm"), Set("height", $"{Number(height)}mm"),
            Set("role", "img"), Set("aria-labelledby", "mould-title mould-desc"), Set("class", "drawing"),
            Shape("title", Set("id", "mould-title"), "Plan of the mould, seen from above"),
            Shape("desc", Set("id", "mould-desc"), $"Inside of the flask, {numbers.Length(high.X - low.X)} along x by {numbers.Length(high.Y - low.Y)} along y, with the patterns, the gating bars and {SheetNumbers.Whole(plan.Vents.Vents.Length)} vents, listed in the table below."),
            sheet.Region(plan.Flask.Plan, "cope-outline"),
            sheet.Region(kit.Plan.CopeOutline.Union(kit.Plan.DragOutline), "footprint"),
            (kit.Gating?.Bars ?? []).Select(b => sheet.Region(b.Plan, b.Body.Half == MouldHalf.Cope ? "cope-flat" : "drag-flat")),
            kit.Cores.SelectMany(c => c.Plans).Select(p => sheet.Region(p, "drag-outline")),
            plan.Vents.Vents.Select((v, i) => VentShape(sheet, v.At_mm, Name(i))),
            sheet.WidthDimension(6, numbers.Length(high.X - low.X)),
            sheet.HeightDimension(6, numbers.Length(high.Y - low.Y)),
            ScaleBar.Draw(Margin, height - 2, 40, scale.Ratio, PlanSheet.TextHeight, numbers),
            PlanSheet.Letters(PaperWidth - Margin, height - 2, $"scale {scale} at full size", "end"));
        return (svg, scale);
    }

    /// <summary>"V1": how drawing and table name a vent.</summary>
    public static string Name(int index) => "V" + SheetNumbers.Whole(index + 1);

    private static XElement VentShape(PlanSheet sheet, Vec2 at, string name)
    {
        var p = sheet.Paper(at);
        return Shape("g",
            Shape("circle", Set("class", "dowel"), Set("cx", p.X), Set("cy", p.Y), Set("r", Mark / 2)),
            PlanSheet.Line(p.X - Mark, p.Y, p.X + Mark, p.Y, "centre"),
            PlanSheet.Line(p.X, p.Y - Mark, p.X, p.Y + Mark, "centre"),
            PlanSheet.Letters(p.X + Mark, p.Y - 0.6, name));
    }
}
