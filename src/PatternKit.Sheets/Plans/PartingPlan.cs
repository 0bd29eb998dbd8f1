using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The parting plan: the joint as seen from above, to scale, in pattern millimetres.</summary>
internal static class PartingPlan
{
    private const double LeastMargin = 12;
    private const double TopMargin = 8;
    private const double BottomMargin = 14;
    private const double TallestPlan = 180;

    /// <summary>The drawing.</summary>
    public static XElement Draw(Kit kit, SheetNumbers numbers)
    {
        var footprint = kit.Plan.CopeOutline.Union(kit.Plan.DragOutline);
        var (low, high) = Box(footprint);
        // The origin is shown where it does not shrink the drawing much.
        var withOrigin = (Low: new Vec2(Math.Min(low.X, 0), Math.Min(low.Y, 0)), High: new Vec2(Math.Max(high.X, 0), Math.Max(high.Y, 0)));
        var showOrigin = (withOrigin.High - withOrigin.Low).Length <= 1.25 * (high - low).Length;
        var (from, to) = showOrigin ? withOrigin : (low, high);
        using var font = new PaperFont();
        var (measure, height) = (DimensionRows.Measure(font), new ViewDimension(low.Y, high.Y, numbers.Length(high.Y - low.Y)));
        var (scale, left) = DimensionRows.Room(to - from, height, LeastMargin, 0, TallestPlan, measure);
        var frame = new PlanSheet(from, to, scale, left, TopMargin);
        var outline = new PlanSheet(low, high, scale, frame.Paper(low).X, frame.Paper(high).Y);
        return DrawingFrame.Draw(
            kit, numbers, new("plan", "Parting plan", "Parting plan, seen from above") { Description = Describe(kit, numbers, high - low) }, scale, frame.Box.Bottom + BottomMargin, "pattern sizes",
            outline.Region(footprint, "footprint"),
            Flats(kit, outline),
            outline.Region(kit.Plan.DragOutline, "drag-outline"),
            outline.Region(kit.Plan.CopeOutline, "cope-outline"),
            kit.Plan.Marks.Select(m => outline.Region(m.Region, m.Half == MouldHalf.Cope ? "cope-mark" : "drag-mark")),
            kit.Dowels.Select((d, i) => DowelShape(outline, d, i)),
            ScrewNames.Seats(kit).Select(s => SeatShape(outline, s.Seat, s.Half.Half, s.Name)),
            ScrewNames.Screws(kit).Select(s => HoleShape(outline, s.Screw.At_mm, s.Screw.Hole_mm, s.Name, below: s.Half.Half == MouldHalf.Drag)),
            showOrigin ? Origin(frame) : null,
            DimensionRows.Below(outline, [new(low.X, high.X, numbers.Length(high.X - low.X))], measure, frame.Box.Bottom - outline.Box.Bottom),
            DimensionRows.Left(outline, [height], measure, outline.Box.Left - frame.Box.Left));
    }

    private static IEnumerable<XElement> Flats(Kit kit, PlanSheet sheet) =>
        kit.Plan.Flats.Where(f => !f.Region.IsEmpty).Select(f => sheet.Region(f.Region, f.Half == MouldHalf.Cope ? "cope-flat" : "drag-flat"));

    private static XElement DowelShape(PlanSheet sheet, Dowel dowel, int index) => HoleShape(sheet, dowel.At_mm, dowel.Hole_mm, DowelName(index));

    private static XElement SeatShape(PlanSheet sheet, PlateSeat seat, MouldHalf half, string name)
    {
        var p = sheet.Paper(seat.At_mm);
        return Shape("g",
            sheet.Region(seat.Region, half == MouldHalf.Cope ? "cope-flat" : "drag-flat"),
            PlanSheet.Letters(p.X, p.Y + (PlanSheet.TextHeight / 2), name, "middle"));
    }

    private static XElement HoleShape(PlanSheet sheet, Vec2 at, double diameter, string name, bool below = false)
    {
        var p = sheet.Paper(at);
        var r = sheet.Scale.Ratio * diameter / 2;
        var arm = r + 2;
        return Shape("g",
            Shape("circle", Set("class", "dowel"), Set("cx", p.X), Set("cy", p.Y), Set("r", r)),
            PlanSheet.Line(p.X - arm, p.Y, p.X + arm, p.Y, "centre"),
            PlanSheet.Line(p.X, p.Y - arm, p.X, p.Y + arm, "centre"),
            PlanSheet.Letters(p.X + r + 1.2, below ? p.Y + r + 0.8 + PlanSheet.TextHeight : p.Y - r - 0.8, name));
    }

    /// <summary>"D1": how drawing and table name a dowel.</summary>
    public static string DowelName(int index) => "D" + SheetNumbers.Whole(index + 1);

    private static XElement Origin(PlanSheet sheet)
    {
        var p = sheet.Paper(default);
        const double Arm = 10;
        return Shape("g", Set("class", "origin"),
            Shape("circle", Set("cx", p.X), Set("cy", p.Y), Set("r", 0.9), Set("class", "origin-dot")),
            PlanSheet.Line(p.X, p.Y, p.X + Arm, p.Y, "origin-axis"),
            PlanSheet.Line(p.X, p.Y, p.X, p.Y - Arm, "origin-axis"),
            PlanSheet.Letters(p.X + Arm + 0.8, p.Y + 1.2, "x"),
            PlanSheet.Letters(p.X - 0.9, p.Y - Arm - 1, "y"));
    }

    private static string Describe(Kit kit, SheetNumbers numbers, Vec2 size)
    {
        var dowels = kit.Dowels.Length == 0 ? "No dowel holes." : $"{SheetNumbers.Whole(kit.Dowels.Length)} dowel holes, listed in the table below.";
        var screws = ScrewNames.Screws(kit).Count();
        var handling = screws == 0 ? "No draw-screw pockets." : $"Draw-screw pockets: {SheetNumbers.Whole(screws)}, listed below.";
        return $"Outlines of the halves at the joint, {numbers.Length(size.X)} along x by {numbers.Length(size.Y)} along y. {dowels} {handling}";
    }

    /// <summary>The box of a region.</summary>
    public static (Vec2 Low, Vec2 High) Box(PlanRegion region)
    {
        var e = region.Geometry.EnvelopeInternal;
        return e.IsNull ? (default, new(1, 1)) : (new(e.MinX, e.MinY), new(e.MaxX, e.MaxY));
    }
}
