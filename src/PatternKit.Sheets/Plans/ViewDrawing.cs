using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Plans;

/// <summary>A section that stands below the views, named by a letter.</summary>
/// <param name="Section">What is cut, and where.</param>
/// <param name="Area">Its area, written below its name.</param>
internal sealed record DrawnSection(BodySection Section, string Area);

/// <summary>What is drawn in views.</summary>
/// <param name="Name">Of the drawing; its words are a sentence's beginning: "General drawing of the closed pattern".</param>
/// <param name="Bodies">As they stand, z up.</param>
/// <param name="Sizes">What is dimensioned in a view, along an axis.</param>
/// <param name="Note">What sizes they are.</param>
internal sealed record ViewSubject(DrawingName Name, IReadOnlyList<EdgedMesh> Bodies, Func<LineView, int, IEnumerable<ViewDimension>> Sizes, string Note)
{
    /// <summary>Whether an edge between two places is no matter of the drawing.</summary>
    public Func<Vec3, Vec3, bool> LeavesOut { get; init; } = (_, _) => false;

    /// <summary>Planes of sections that are drawn elsewhere, on the plan.</summary>
    public ImmutableArray<CuttingPlane> Planes { get; init; } = [];

    /// <summary>Axes of what is round.</summary>
    public ImmutableArray<CentreLine> Axes { get; init; } = [];

    /// <summary>Sections that are drawn below the views, lettered from A.</summary>
    public ImmutableArray<DrawnSection> Sections { get; init; } = [];

    /// <summary>Height that views may take, with their sizes.</summary>
    public double Tallest_mm { get; init; } = 170;
}

/// <summary>
/// A drawing of bodies: front, plan and side in first- or third-angle projection (ISO 128-3, ISO 5456-2), seen edges wide, hidden ones dashed and
/// narrow (ISO 128-2), sizes along the three axes (ISO 129-1), sections below.
/// </summary>
internal static class ViewDrawing
{
    private const double Between_mm = 16;

    /// <summary>HTML has the reader's typeface, whose letters may be wider.</summary>
    public const double Wider = 1.15;

    // A page of Letter, less its margins and a caption.
    private const double Page_mm = 228;

    /// <summary>The drawing, at the largest scale at which it stands on one page.</summary>
    public static XElement Draw(Kit kit, SheetNumbers numbers, ViewSubject subject)
    {
        using var font = new PaperFont();
        var first = kit.Job.Projection == ViewAngle.First;
        // Front seen along +y, plan from above; the side from the left in first angle, from the right in third: both stand right of the front.
        var views = new[] { (Right: new Vec3(1, 0, 0), Up: new Vec3(0, 0, 1)), (new(1, 0, 0), new(0, 1, 0)), (new(0, first ? -1 : 1, 0), new(0, 0, 1)) }
            .Select(a => Task.Run(() => LineView.Of(subject.Bodies, a.Item1, a.Item2, subject.LeavesOut))).ToArray().Select(t => t.GetAwaiter().GetResult()).ToArray();
        var (front, plan) = (views[0], views[1]);
        var scale = PaperScale.For(front.High.X - front.Low.X + plan.High.Y - plan.Low.Y, front.High.Y - front.Low.Y + plan.High.Y - plan.Low.Y, DrawingFrame.Width_mm, subject.Tallest_mm);
        var name = subject.Name with { Words = $"{subject.Name.Words}: front, plan and view from the {(first ? "left" : "right")}, {(first ? "first" : "third")}-angle projection" };
        // Letters stay as large as they are, so that a smaller scale does not always help: of those that are too tall the least is taken.
        PaperScale[] scales = [scale, scale.Smaller, scale.Smaller.Smaller];
        // Heights too short for their values have them level, as long as that costs no scale.
        var tried = scales.SelectMany(s => Enumerable.Range(0, 2).Select(n => (Scale: s, At: Drawn(subject, numbers, views, first, s, n == 1, font)))).ToArray();
        var best = tried.Where(t => t.At.Right <= DrawingFrame.Width_mm - DrawingFrame.Border_mm).OrderBy(t => Math.Max(t.At.Bottom + DrawingFrame.Foot_mm, Page_mm)).FirstOrDefault(tried[^1]);
        return DrawingFrame.Draw(kit, numbers, name, best.Scale, best.At.Bottom, subject.Note, best.At.Drawn);
    }

    /// <summary>The views with their sizes and sections at a scale, and how far they reach.</summary>
    private static (double Right, double Bottom, object?[] Drawn) Drawn(ViewSubject subject, SheetNumbers numbers, LineView[] views, bool first, PaperScale scale, bool isRaised, PaperFont font)
    {
        var (front, plan, side, r, measured) = (views[0], views[1], views[2], scale.Ratio, DimensionRows.Measure(font));
        var (along, deep, high) = (DimensionRows.Ordered(subject.Sizes(front, 0)), DimensionRows.Ordered(subject.Sizes(plan, 1)), DimensionRows.Ordered(subject.Sizes(front, 2)));
        var (width, depth, height) = (r * (front.High.X - front.Low.X), r * (plan.High.Y - plan.Low.Y), r * (front.High.Y - front.Low.Y));
        var (onPlan, onFront) = Planes(subject);
        var (planEnds, frontEnds) = (Ends(onPlan, scale), Ends(onFront, scale));
        var left = DrawingFrame.Border_mm + 6 + Math.Max(DimensionRows.Depth(r, deep, measured, isRaised) + planEnds.Beside, DimensionRows.Depth(r, high, measured, isRaised) + frontEnds.Beside);
        var below = DimensionRows.Height(r, along, measured) + planEnds.Across + 4;
        // Arrows stand before the line that they point at; on a short line they, and those of its size, stand beyond it.
        double Rise(ImmutableArray<ViewDimension> rows, LineView view) => isRaised ? DimensionRows.Rise(r, rows, view.High.Y, measured) : 0;
        var (frontUp, planUp) = (Math.Max(onFront.IsEmpty ? 0 : CuttingPlane.Arrow_mm, Rise(high, front)), Math.Max(planEnds.Across, Rise(deep, plan)));
        var arrowsDown = onPlan.Any(p => p.EndsLeft) ? Math.Max(0, CuttingPlane.Arrow_mm - (depth / 2)) : 0;
        var top = DrawingFrame.Border_mm + Math.Max(6, first ? frontUp : planUp);
        // Plan below the front in first angle, above it in third.
        var (frontTop, planTop) = first ? (top, top + height + Between_mm + planUp) : (top + depth + below + Between_mm + frontUp, top);
        var frontSheet = new PlanSheet(front.Low, front.High, scale, left, frontTop);
        var planSheet = new PlanSheet(plan.Low, plan.High, scale, left, planTop);
        var sideSheet = new PlanSheet(side.Low, side.High, scale, left + width + Between_mm + frontEnds.Beside, frontTop);
        var bottom = first ? planTop + depth + Math.Max(below, arrowsDown) : frontTop + height + 6;
        var (sections, end) = SectionRow.Draw(subject.Sections, numbers, Letter, bottom + 6, font);
        return (Math.Max(sideSheet.Box.Right, planSheet.Box.Right + planEnds.Beside + 2), end,
        [
            Lines(frontSheet, front), Lines(planSheet, plan), Lines(sideSheet, side),
            subject.Axes.SelectMany(a => new[] { a.Draw(frontSheet, p => new(p.X, p.Z)), a.Draw(planSheet, p => p.Plan), a.Draw(sideSheet, p => new(first ? -p.Y : p.Y, p.Z)) }),
            DimensionRows.Below(planSheet, along, measured, planEnds.Across),
            DimensionRows.Left(planSheet, deep, measured, planEnds.Beside, isRaised),
            DimensionRows.Left(frontSheet, high, measured, frontEnds.Beside, isRaised),
            onPlan.Zip(CuttingPlane.Reaches(onPlan, scale), (p, reach) => p.Draw(planSheet, reach)),
            onFront.Zip(CuttingPlane.Reaches(onFront, scale), (p, reach) => p.Draw(frontSheet, reach)),
            sections,
        ]);
    }

    /// <summary>Names of sections, from A.</summary>
    private static string Letter(int index) => ((char)('A' + index)).ToString();

    // An upright plane is a line in the plan, a level one in the front.
    private static (ImmutableArray<CuttingPlane> OnPlan, ImmutableArray<CuttingPlane> OnFront) Planes(ViewSubject subject)
    {
        var lettered = subject.Sections.Select((s, i) => (s.Section, Letter: Letter(i))).ToArray();
        return (
            [.. subject.Planes, .. lettered.Where(s => !s.Section.IsLevel).Select(s => new CuttingPlane(s.Letter, s.Section.At.Plan, s.Section.Sight.Plan))],
            [.. lettered.Where(s => s.Section.IsLevel).Select(s => new CuttingPlane(s.Letter, new(s.Section.At.X, s.Section.At.Z), new(0, s.Section.Sight.Z)))]);
    }

    // What planes take beside a view, and above and below it.
    private static (double Beside, double Across) Ends(ImmutableArray<CuttingPlane> planes, PaperScale scale)
    {
        var reaches = planes.Zip(CuttingPlane.Reaches(planes, scale)).ToArray();
        double Most(bool isLeft) => reaches.Where(p => p.First.EndsLeft == isLeft).Select(p => p.Second).DefaultIfEmpty(0).Max();
        return (Most(true), Most(false));
    }

    private static IEnumerable<XElement> Lines(PlanSheet sheet, LineView view) =>
        view.Hidden.Select(l => sheet.Polyline(l, "hidden")).Concat(view.Seen.Select(l => sheet.Polyline(l, "visible")));
}
