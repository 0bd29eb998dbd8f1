using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The mould as seen from above: the inside of the flask, patterns and bars in it, and the vents by number.</summary>
internal static class MouldPlan
{
    private const double Margin = 10;
    private const double BottomMargin = 14;
    private const double TallestPlan = 150;
    private const double Mark = 1.2;

    // With the distance of a row less its letters, what a plane reaches.
    private const double Beyond = CuttingPlane.Reach_mm - 4;

    /// <summary>The drawing.</summary>
    public static XElement Draw(Kit kit, PourPlan plan, SheetNumbers numbers)
    {
        var (low, high) = PartingPlan.Box(plan.Flask.Plan);
        using var font = new PaperFont();
        var (measure, height) = (DimensionRows.Measure(font), new ViewDimension(low.Y, high.Y, numbers.Length(high.Y - low.Y)));
        // Where the plane of the section goes out below or on the left, sizes stand beyond its end, arrow and letter.
        var cut = kit.Bodies.IsEmpty ? null : MouldSection.Cut(kit, plan);
        var below = cut is { EndsLeft: false } ? Beyond + (CuttingPlane.Arrow_mm * Math.Max(0, cut.Sight.Y)) : 0;
        var beside = cut is { EndsLeft: true } ? Beyond + (CuttingPlane.Arrow_mm * Math.Max(0, cut.Sight.X)) : 0;
        var (scale, left) = DimensionRows.Room(high - low, height, Margin, beside, TallestPlan, measure);
        var sheet = new PlanSheet(low, high, scale, left, Margin + 2);
        return DrawingFrame.Draw(
            kit, numbers, new("mould", "Plan of the mould", "Plan of the mould, seen from above")
            {
                Description = $"Inside of the flask, {numbers.Length(high.X - low.X)} along x by {numbers.Length(high.Y - low.Y)} along y, with the patterns, the gating bars and {SheetNumbers.Whole(plan.Vents.Vents.Length)} vents, listed in the table below.",
            },
            scale, sheet.Box.Bottom + below + BottomMargin, "pattern sizes",
            sheet.Region(plan.Flask.Plan, "cope-outline"),
            sheet.Region(kit.Plan.CopeOutline.Union(kit.Plan.DragOutline), "footprint"),
            (kit.Gating?.Bars ?? []).Select(b => sheet.Region(b.Plan, b.Body.Half == MouldHalf.Cope ? "cope-flat" : "drag-flat")),
            kit.Cores.SelectMany(c => c.Plans).Select(p => sheet.Region(p, "drag-outline")),
            plan.Vents.Vents.Select((v, i) => VentShape(sheet, v.At_mm, Name(i))),
            DimensionRows.Below(sheet, [new(low.X, high.X, numbers.Length(high.X - low.X))], measure, below),
            DimensionRows.Left(sheet, [height], measure, beside),
            cut?.Draw(sheet, CuttingPlane.Reach_mm, false));
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
