using System.Collections.Immutable;
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
    private const double OriginArm_mm = 10;

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
        var marks = ShownMarks(kit);
        var (seats, screws) = (ScrewNames.Seats(kit).ToArray(), ScrewNames.Screws(kit).ToArray());
        var places = new FreePlaces(font, new(frame.Box.Left, DrawingFrame.Border_mm), new(DrawingFrame.Width_mm - DrawingFrame.Border_mm, frame.Box.Bottom));
        foreach (var region in seats.Select(s => s.Seat.Region).Concat(kit.Plan.Flats.Select(f => f.Region)).Append(kit.Plan.CopeOutline).Append(kit.Plan.DragOutline)) places.KeepLines(outline, region);
        foreach (var mark in marks) places.KeepPieces(outline, mark.Region);
        foreach (var (at, hole) in kit.Dowels.Select(d => (d.At_mm, d.Hole_mm)).Concat(screws.Select(s => (s.Screw.At_mm, s.Screw.Hole_mm)))) places.Keep(outline.Paper(at), Arm(outline, hole));
        if (showOrigin) places.Keep(frame.Paper(default) + new Vec2(-2, 2), frame.Paper(default) + new Vec2(OriginArm_mm + 4, -OriginArm_mm - 5));
        return DrawingFrame.Draw(
            kit, numbers, new("plan", "Parting plan", "Parting plan, seen from above") { Description = Describe(kit, numbers, high - low) }, scale, frame.Box.Bottom + BottomMargin, "pattern sizes",
            outline.Region(footprint, "footprint"),
            Flats(kit, outline),
            outline.Region(kit.Plan.DragOutline, "drag-outline"),
            outline.Region(kit.Plan.CopeOutline, "cope-outline"),
            marks.Select(m => outline.Region(m.Region, m.Half == MouldHalf.Cope ? "cope-mark" : "drag-mark")),
            seats.Select(s => outline.Region(s.Seat.Region, s.Half.Half == MouldHalf.Cope ? "cope-flat" : "drag-flat")),
            kit.Dowels.Select((d, i) => HoleShape(outline, d.At_mm, d.Hole_mm, places, DowelName(i))),
            screws.Select(s => HoleShape(outline, s.Screw.At_mm, s.Screw.Hole_mm, places, s.Name)),
            seats.Select(s => places.Name(outline.Paper(s.Seat.At_mm), 1, s.Name)),
            showOrigin ? Origin(frame) : null,
            DimensionRows.Below(outline, [new(low.X, high.X, numbers.Length(high.X - low.X))], measure, frame.Box.Bottom - outline.Box.Bottom),
            DimensionRows.Left(outline, [height], measure, outline.Box.Left - frame.Box.Left));
    }

    private static IEnumerable<XElement> Flats(Kit kit, PlanSheet sheet) =>
        kit.Plan.Flats.Where(f => !f.Region.IsEmpty).Select(f => sheet.Region(f.Region, f.Half == MouldHalf.Cope ? "cope-flat" : "drag-flat"));

    /// <summary>The lettering that is drawn: that of the drag lies under the cope's as a rule, where both together could not be read.</summary>
    public static ImmutableArray<(MouldHalf Half, string Text, PlanRegion Region)> ShownMarks(Kit kit)
    {
        var cope = kit.Plan.Marks.Where(m => m.Half == MouldHalf.Cope).Select(m => Box(m.Region)).ToArray();
        return [.. kit.Plan.Marks.Where(m => m.Half == MouldHalf.Cope || Box(m.Region) is var own && !cope.Any(c => c.Low.X < own.High.X && c.High.X > own.Low.X && c.Low.Y < own.High.Y && c.High.Y > own.Low.Y))];
    }

    private static XElement HoleShape(PlanSheet sheet, Vec2 at, double diameter, FreePlaces places, string name)
    {
        var (p, r, arm) = (sheet.Paper(at), sheet.Scale.Ratio * diameter / 2, Arm(sheet, diameter));
        return Shape("g",
            Shape("circle", Set("class", "dowel"), Set("cx", p.X), Set("cy", p.Y), Set("r", r)),
            PlanSheet.Line(p.X - arm, p.Y, p.X + arm, p.Y, "centre"),
            PlanSheet.Line(p.X, p.Y - arm, p.X, p.Y + arm, "centre"),
            places.Name(p, r, name));
    }

    // Centre lines go beyond the circle.
    private static double Arm(PlanSheet sheet, double diameter) => (sheet.Scale.Ratio * diameter / 2) + 2;

    /// <summary>"D1": how drawing and table name a dowel.</summary>
    public static string DowelName(int index) => "D" + SheetNumbers.Whole(index + 1);

    private static XElement Origin(PlanSheet sheet)
    {
        var p = sheet.Paper(default);
        return Shape("g", Set("class", "origin"),
            Shape("circle", Set("cx", p.X), Set("cy", p.Y), Set("r", 0.9), Set("class", "origin-dot")),
            PlanSheet.Line(p.X, p.Y, p.X + OriginArm_mm, p.Y, "origin-axis"),
            PlanSheet.Line(p.X, p.Y, p.X, p.Y - OriginArm_mm, "origin-axis"),
            PlanSheet.Letters(p.X + OriginArm_mm + 0.8, p.Y + 1.2, "x"),
            PlanSheet.Letters(p.X - 0.9, p.Y - OriginArm_mm - 1, "y"));
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
