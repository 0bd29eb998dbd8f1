using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>
/// A drawing of bodies: front, plan and side in first- or third-angle projection (ISO 128-3, ISO 5456-2), seen edges wide, hidden ones dashed and
/// narrow (ISO 128-2), sizes along the three axes (ISO 129-1), a title block.
/// </summary>
internal static class ViewDrawing
{
    private const double PaperWidth_mm = 180;
    private const double Tallest_mm = 235;
    private const double Border_mm = 4;
    private const double Between_mm = 16;
    private const double TextHeight_mm = 3;

    /// <summary>HTML has the reader's typeface, whose letters may be wider.</summary>
    public const double Wider = 1.15;

    /// <summary>The drawing.</summary>
    /// <param name="kit">For the title block.</param>
    /// <param name="numbers">For the scale bar.</param>
    /// <param name="id">Of the drawing in the sheet.</param>
    /// <param name="title">For the title block: "General drawing".</param>
    /// <param name="words">What is drawn, in a sentence's beginning: "General drawing of the closed pattern".</param>
    /// <param name="bodies">As they stand, z up.</param>
    /// <param name="leavesOut">Whether an edge between two places is no matter of the drawing.</param>
    /// <param name="sizes">What is dimensioned in a view, along an axis.</param>
    /// <param name="note">What sizes they are.</param>
    /// <param name="isCut">Whether the middle section is marked.</param>
    public static XElement Draw(
        Kit kit, SheetNumbers numbers, string id, string title, string words, IReadOnlyList<EdgedMesh> bodies, Func<Vec3, Vec3, bool> leavesOut,
        Func<LineView, int, IEnumerable<ViewDimension>> sizes, string note, bool isCut)
    {
        using var font = new PaperFont();
        double Measured(string t) => Wider * font.Width(font.Shown(t), TextHeight_mm);
        var first = kit.Job.Projection == ViewAngle.First;
        // Front seen along +y, plan from above; the side from the left in first angle, from the right in third: both stand right of the front.
        var views = new[] { (Right: new Vec3(1, 0, 0), Up: new Vec3(0, 0, 1)), (new(1, 0, 0), new(0, 1, 0)), (new(0, first ? -1 : 1, 0), new(0, 0, 1)) }
            .Select(a => Task.Run(() => LineView.Of(bodies, a.Item1, a.Item2, leavesOut))).ToArray().Select(t => t.GetAwaiter().GetResult()).ToArray();
        var (front, plan, side) = (views[0], views[1], views[2]);
        var (along, deep, high) = (DimensionRows.Ordered(sizes(front, 0)), DimensionRows.Ordered(sizes(plan, 1)), DimensionRows.Ordered(sizes(front, 2)));
        var left = Border_mm + (DimensionRows.Pitch_mm * Math.Max(deep.Length, high.Length)) + 6;
        var below = (DimensionRows.Pitch_mm * along.Length) + 4;
        var (width, depth, height) = (front.High.X - front.Low.X, plan.High.Y - plan.Low.Y, front.High.Y - front.Low.Y);
        var scale = PaperScale.For(width + depth, height + depth, PaperWidth_mm - left - Between_mm - Border_mm - 4, Tallest_mm - (2 * Between_mm) - below - TitleBlock.Height_mm - 60);
        var r = scale.Ratio;
        // Long values of the upper view go up beyond it, those of the lower one down.
        var (up, down) = first ? (DimensionRows.Beyond(r, high, Measured), DimensionRows.Beyond(r, deep, Measured)) : (DimensionRows.Beyond(r, deep, Measured), DimensionRows.Beyond(r, high, Measured));
        var top = Border_mm + Math.Max(8, up + 2);
        // Plan below the front in first angle, above it in third.
        var (frontTop, planTop) = first ? (top, top + (r * height) + Between_mm) : (top + (r * depth) + below + Between_mm, top);
        var frontSheet = new PlanSheet(front.Low, front.High, scale, left, frontTop);
        var planSheet = new PlanSheet(plan.Low, plan.High, scale, left, planTop);
        var sideSheet = new PlanSheet(side.Low, side.High, scale, left + (r * width) + Between_mm, frontTop);
        var bottom = Math.Max(Math.Max(frontSheet.Box.Bottom, planSheet.Box.Bottom + below), (first ? planSheet : frontSheet).Box.Bottom + down) + 6;
        var total = bottom + 8 + TitleBlock.Height_mm + Border_mm;
        var told = $"{words}: front, plan and view from the {(first ? "left" : "right")}, {(first ? "first" : "third")}-angle projection";
        return Shape("svg",
            Set("viewBox", $"0 0 {Number(PaperWidth_mm)} {Number(total)}"), Set("width", $"{Number(PaperWidth_mm)}mm"), Set("height", $"{Number(total)}mm"),
            Set("role", "img"), Set("aria-labelledby", $"{id}-title"), Set("class", "drawing"),
            Shape("title", Set("id", $"{id}-title"), told),
            Shape("rect", Set("class", "frame"), Set("x", 1), Set("y", 1), Set("width", PaperWidth_mm - 2), Set("height", total - 2)),
            Lines(frontSheet, front), Lines(planSheet, plan), Lines(sideSheet, side),
            isCut ? CuttingPlane(planSheet, width >= depth) : null,
            DimensionRows.Below(planSheet, along, Measured, PaperWidth_mm - Border_mm),
            DimensionRows.Left(planSheet, deep, Measured, first),
            DimensionRows.Left(frontSheet, high, Measured, !first),
            ScaleBar.Draw(Border_mm + 2, bottom + 4, 40, r, TextHeight_mm, numbers),
            PlanSheet.Letters(PaperWidth_mm - Border_mm - 2, bottom + 4, note, "end", size: 2.5),
            TitleBlock.Draw(kit, title, scale, 1, total - TitleBlock.Height_mm - 1, PaperWidth_mm - 2, font));
    }

    private static IEnumerable<XElement> Lines(PlanSheet sheet, LineView view) =>
        view.Hidden.Select(l => sheet.Polyline(l, "hidden")).Concat(view.Seen.Select(l => sheet.Polyline(l, "visible")));

    // Where the section is taken: a chain line, with letters and the direction of sight at its ends (ISO 128-3).
    private static XElement CuttingPlane(PlanSheet sheet, bool alongX)
    {
        var (l, t, r, b) = sheet.Box;
        var (x, y) = ((l + r) / 2, (t + b) / 2);
        return alongX
            ? Shape("g", PlanSheet.Line(l - 3, y, r + 7, y, "centre"), PlanSheet.Line(r + 2, y, r + 7, y, "visible"), PlanSheet.Line(r + 6, y, r + 6, y - 6, "thin"), PlanSheet.Arrow(r + 6, y - 6, 0, -1), PlanSheet.Letters(r + 7.5, y - 2, "A", size: 3.5))
            : Shape("g", PlanSheet.Line(x, t - 7, x, b + 3, "centre"), PlanSheet.Line(x, t - 7, x, t - 2, "visible"), PlanSheet.Line(x, t - 6, x - 6, t - 6, "thin"), PlanSheet.Arrow(x - 6, t - 6, -1, 0), PlanSheet.Letters(x + 1.5, t - 4, "A", size: 3.5));
    }
}
