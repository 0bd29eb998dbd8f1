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

    // Of the distance of a row what its letters leave free.
    private const double RowLess = 3.5;

    /// <summary>The drawing.</summary>
    public static XElement Draw(Kit kit, PourPlan plan, SheetNumbers numbers)
    {
        var (low, high) = PartingPlan.Box(plan.Flask.Plan);
        using var font = new PaperFont();
        var (measure, height) = (DimensionRows.Measure(font), new ViewDimension(low.Y, high.Y, numbers.Length(high.Y - low.Y)));
        // Where the plane of the section goes out below or on the left, sizes stand beyond its ends, arrows and letters.
        var cut = kit.Bodies.IsEmpty ? null : MouldSection.Cut(kit, plan);
        PlanSheet At(PaperScale scale, double left) => new(low, high, scale, left, Margin + 2);
        (double Left, double Below) Beyond(PlanSheet sheet) => cut?.Beyond(sheet, CuttingPlane.Reach_mm) is var (l, b) ? (Math.Max(0, l - RowLess), Math.Max(0, b - RowLess)) : default;
        var (firstScale, firstLeft) = DimensionRows.Room(high - low, height, Margin, 0, TallestPlan, measure);
        var (scale, left) = DimensionRows.Room(high - low, height, Margin, Beyond(At(firstScale, firstLeft)).Left, TallestPlan, measure);
        var sheet = At(scale, left);
        var (beside, below) = Beyond(sheet);
        var places = new FreePlaces(font, new(sheet.Box.Left + 1, sheet.Box.Top + 1), new(sheet.Box.Right - 1, sheet.Box.Bottom - 1));
        foreach (var bar in kit.Gating?.Bars ?? []) places.KeepLines(sheet, bar.Plan);
        foreach (var (cutPlan, _) in ByHand(kit)) places.KeepLines(sheet, cutPlan);
        foreach (var core in kit.Cores.SelectMany(c => c.Plans)) places.KeepLines(sheet, core);
        foreach (var loose in kit.Loose) places.KeepLines(sheet, loose.Plan);
        foreach (var vent in plan.Vents.Vents) places.Keep(sheet.Paper(vent.At_mm), Mark);
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
            kit.Loose.Select(l => sheet.Region(l.Plan, l.Half == MouldHalf.Cope ? "cope-outline" : "drag-outline")),
            ByHand(kit).Select(f => Shape("g", sheet.Region(f.Plan, "drag-outline"), places.Name(sheet.Paper(f.Plan.InnerPoint), Mark, f.Name))),
            // Which is which needs no word where all are alike.
            kit.IsMixed ? CastingLines.Of(kit).Select(c => places.Name(sheet.Paper(c.Middle_mm), Mark, $"{c.Name} {c.Part.Name}")) : null,
            plan.Vents.Vents.Select((v, i) => VentShape(sheet, v.At_mm, places, Name(i))),
            DimensionRows.Below(sheet, [new(low.X, high.X, numbers.Length(high.X - low.X))], measure, below),
            DimensionRows.Left(sheet, [height], measure, beside),
            cut?.Draw(sheet, CuttingPlane.Reach_mm, false));
    }

    /// <summary>What is cut into the joint by hand, with its name: the place of its section in the table of feeding.</summary>
    public static IEnumerable<(PlanRegion Plan, string Name)> ByHand(Kit kit) => (kit.Feeding?.Sections ?? []).Select((s, i) => (s.CutOnJoint, "F" + SheetNumbers.Whole(i + 1))).Where(f => !f.CutOnJoint.IsEmpty);

    /// <summary>"V1": how drawing and table name a vent.</summary>
    public static string Name(int index) => "V" + SheetNumbers.Whole(index + 1);

    private static XElement VentShape(PlanSheet sheet, Vec2 at, FreePlaces places, string name)
    {
        var p = sheet.Paper(at);
        return Shape("g",
            Shape("circle", Set("class", "dowel"), Set("cx", p.X), Set("cy", p.Y), Set("r", Mark / 2)),
            PlanSheet.Line(p.X - Mark, p.Y, p.X + Mark, p.Y, "centre"),
            PlanSheet.Line(p.X, p.Y - Mark, p.X, p.Y + Mark, "centre"),
            places.Name(p, Mark, name));
    }
}
