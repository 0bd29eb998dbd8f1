using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The rammed mould cut upright through the sprue and the middle of the pattern: flask, joint, what the metal fills, vents near the plane, sand distances.</summary>
internal static class MouldSection
{
    /// <summary>Names the section where it is cut and where it is drawn.</summary>
    public const string Letter = "B";

    private const double Left_mm = 40;
    private const double Right_mm = 40;
    private const double Top_mm = 12;
    private const double Tallest_mm = 110;
    private const double WeightHeight_mm = 6;

    // Vents this near to the plane are drawn in it.
    private const double Near_mm = 6;

    /// <summary>The drawing; null where there is no body.</summary>
    public static XElement? Draw(Kit kit, PourPlan plan, SheetNumbers numbers)
    {
        if (kit.Bodies.IsEmpty) return null;
        using var font = new PaperFont();
        var measure = DimensionRows.Measure(font);
        var (middle, along, from, to) = Plane(kit, plan);
        var normal = new Vec3(along.Y, -along.X, 0);
        Vec2 InView(Vec3 p) => new(Vec2.Dot(p.Plan - middle, along), p.Z);
        var joint = kit.Parting.PatternHeight_mm;
        var (bottom, top, sand) = (joint - plan.Flask.TakenDrag_mm, joint + plan.Flask.TakenCope_mm, joint + plan.Sand.CopeDepth_mm);
        var bodies = kit.Bodies.Concat(kit.Loose.Select(l => l.Body)).Concat((kit.Gating?.Bars ?? []).Select(b => b.Body)).ToArray();
        var (low, high) = (new Vec2(from, bottom), new Vec2(to, Math.Max(top, bodies.Max(b => b.InMould.Bounds().High.Z))));
        var scale = PaperScale.For(high.X - low.X, high.Y - low.Y, DrawingFrame.Width_mm - Left_mm - Right_mm, Tallest_mm);
        var weights_kg = plan.Balance is { Added_N: > 0 } balance ? balance.Weights_kg : 0;
        var sheet = new PlanSheet(low, high, scale, Left_mm + ((DrawingFrame.Width_mm - Left_mm - Right_mm - (scale.Ratio * (to - from))) / 2), Top_mm + (weights_kg > 0 ? WeightHeight_mm + 6 : 0));
        var loops = bodies.SelectMany(b => ClosedSection.Of(b, new(middle.X, middle.Y, joint), normal) is { } cut ? cut.Select(l => l.Select(InView).ToArray()) : []).ToArray();
        var cores = kit.Cores.SelectMany(c => c.InMould).SelectMany(c => ClosedSection.Of(c, new(middle.X, middle.Y, joint), normal) is { } cut ? cut.Select(l => l.Select(InView).ToArray()) : []).ToArray();
        var (above, below) = SandBeyond(kit, plan);
        return DrawingFrame.Draw(
            kit, numbers, new("mould-section", $"Section {Letter}–{Letter} of the mould", "Section of the mould through the sprue and the middle of the pattern: cope above the joint, drag below; what the metal fills is tinted"), scale, sheet.Box.Bottom + 14, "pattern sizes; inside of the flask",
            PlanSheet.Letters(DrawingFrame.Width_mm / 2, 7, $"{Letter}–{Letter}", "middle"),
            loops.Select(l => sheet.Rings([l], "footprint")), loops.Select(l => sheet.Rings([l], "cope-flat")),
            cores.SelectMany(l => Hatching.Lines(sheet, [l], true)), cores.Select(l => sheet.Rings([l], "cope-flat")),
            sheet.Rings([[new(from, bottom), new(to, bottom), new(to, top), new(from, top)]], "cope-outline"),
            sheet.Polyline([new(from, joint), new(to, joint)], "joint-line"),
            sand < top - 0.5 ? sheet.Polyline([new(from, sand), new(to, sand)], "thin") : null,
            weights_kg > 0 ? Weights(sheet, sheet.Paper(new(0, top)).Y, "weights " + numbers.Weight(weights_kg)) : null,
            plan.Vents.Pricked.Where(v => Math.Abs(Vec2.Dot(v.At_mm - middle, normal.Plan)) < Near_mm).Select(v => (X: Vec2.Dot(v.At_mm - middle, along), v.Depth_mm)).Where(v => v.X > from && v.X < to)
                .Select(v => sheet.Polyline([new(v.X, sand), new(v.X, sand - v.Depth_mm)], "thin")),
            DimensionRows.Beside(sheet, bottom, joint, "drag " + numbers.Length(joint - bottom, 0), true, measure), DimensionRows.Beside(sheet, joint, top, "cope " + numbers.Length(top - joint, 0), true, measure),
            DimensionRows.Below(sheet, DimensionRows.Ordered([new(from, to, numbers.Length(to - from, 0))]), measure),
            DimensionRows.Beside(sheet, sand - above, sand, numbers.Length(above, 0) + " above", false, measure),
            DimensionRows.Beside(sheet, bottom, bottom + below, numbers.Length(below, 0) + " below", false, measure));
    }

    /// <summary>Where the mould is cut, in plan.</summary>
    public static CuttingPlane Cut(Kit kit, PourPlan plan) => Plane(kit, plan) is var (middle, along, _, _) ? new(Letter, middle, along.Left) : throw new InvalidOperationException();

    /// <summary>Width of the mould in the plane of the section.</summary>
    public static double Width_mm(Kit kit, PourPlan plan) => Plane(kit, plan) is var (_, _, from, to) ? to - from : double.NaN;

    /// <summary>Sand over the pattern, and under the lowest of pattern and bars.</summary>
    public static (double Above_mm, double Below_mm) SandBeyond(Kit kit, PourPlan plan)
    {
        var joint = kit.Parting.PatternHeight_mm;
        var (roof, floor) = (kit.Bodies.Max(b => b.InMould.Bounds().High.Z), kit.Bodies.Concat((kit.Gating?.Bars ?? []).Select(b => b.Body)).Min(b => b.InMould.Bounds().Low.Z));
        return (joint + plan.Sand.CopeDepth_mm - roof, floor - joint + plan.Flask.TakenDrag_mm);
    }

    // Through the sprue and the middle of the pattern, from left to right, so that the section is not a mirror of the plan.
    private static (Vec2 Middle, Vec2 Along, double From, double To) Plane(Kit kit, PourPlan plan)
    {
        var outline = kit.Plan.CopeOutline.Union(kit.Plan.DragOutline);
        var foot = kit.Gating?.Bars.FirstOrDefault(b => b.Kind == BarKind.Sprue)?.Plan.Centroid;
        // Between several castings there is only sand: the plane goes through that nearest to the sprue.
        var middle = kit.CastingCount > 1 && foot is { } at ? outline.Pieces().Select(p => p.Centroid).MinBy(c => Vec2.Distance(c, at)) : outline.Centroid;
        var way = middle - (foot ?? (middle + new Vec2(1, 0)));
        var along = way.Length > 1e-3 ? way.Normalized() : new Vec2(1, 0);
        if (along.X < 0 || (along.X == 0 && along.Y < 0)) along = -1 * along;
        var (from, to) = Through(plan, middle, along);
        return (middle, along, from, to);
    }

    // On both edges of the flask, clear of sprue and vents, which keep away from its walls.
    private static XElement Weights(PlanSheet sheet, double y, string text)
    {
        var (width, top) = (Math.Min(WeightHeight_mm, (sheet.Box.Right - sheet.Box.Left) / 10), y - WeightHeight_mm);
        XElement Block(double x) => Shape("rect", Set("class", "frame"), Set("x", x), Set("y", top), Set("width", width), Set("height", WeightHeight_mm));
        return Shape("g", Block(sheet.Box.Left), Block(sheet.Box.Right - width), PlanSheet.Letters(sheet.Box.Left, top - 2, text, size: 3));
    }

    // Where the plane goes in and out of the flask, from the middle of the pattern.
    private static (double From, double To) Through(PourPlan plan, Vec2 middle, Vec2 along)
    {
        var (low, high) = PartingPlan.Box(plan.Flask.Plan);
        var (from, to) = (double.NegativeInfinity, double.PositiveInfinity);
        foreach (var (at, way, least, most) in new[] { (middle.X, along.X, low.X, high.X), (middle.Y, along.Y, low.Y, high.Y) })
        {
            if (Math.Abs(way) < 1e-9) continue;
            var (a, b) = ((least - at) / way, (most - at) / way);
            (from, to) = (Math.Max(from, Math.Min(a, b)), Math.Min(to, Math.Max(a, b)));
        }

        return (from, to);
    }
}
