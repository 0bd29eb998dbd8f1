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
/// The general drawing of the closed pattern: front, plan and side in first- or third-angle projection (ISO 128-3, ISO 5456-2), seen edges wide, hidden ones dashed and
/// narrow (ISO 128-2), sizes of the pattern with the nominal beside (ISO 129-1), a title block.
/// </summary>
internal static class GeneralDrawing
{
    private const double PaperWidth_mm = 180;
    private const double Tallest_mm = 235;
    private const double Border_mm = 4;
    private const double Between_mm = 16;
    private const double TextHeight_mm = 3;

    /// <summary>HTML has the reader's typeface, whose letters may be wider.</summary>
    public const double Wider = 1.15;

    // Lettering on the joint lies so near to it.
    private const double Lettering_mm = 3;

    /// <summary>The drawing; null where there is no body.</summary>
    public static XElement? Draw(Kit kit, SheetNumbers numbers)
    {
        if (kit.Bodies.IsEmpty) return null;
        using var font = new PaperFont();
        double Measured(string t) => Wider * font.Width(font.Shown(t), TextHeight_mm);
        var meshes = kit.Bodies.Select(b => EdgedMesh.Of(b.InMould)).ToArray();
        var first = kit.Job.Projection == ViewAngle.First;
        // Front seen along +y, plan from above; the side from the left in first angle, from the right in third: both stand right of the front.
        var views = new[] { (Right: new Vec3(1, 0, 0), Up: new Vec3(0, 0, 1)), (new(1, 0, 0), new(0, 1, 0)), (new(0, first ? -1 : 1, 0), new(0, 0, 1)) }
            .Select(a => Task.Run(() => LineView.Of(meshes, a.Item1, a.Item2, (p, q) => IsLettering(kit, p) && IsLettering(kit, q)))).ToArray().Select(t => t.GetAwaiter().GetResult()).ToArray();
        var (front, plan, side) = (views[0], views[1], views[2]);
        var (along, deep, high) = (DimensionRows.Ordered(Sizes(kit, numbers, front, 0)), DimensionRows.Ordered(Sizes(kit, numbers, plan, 1)), DimensionRows.Ordered(Sizes(kit, numbers, front, 2)));
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
        var words = $"General drawing of the closed pattern: front, plan and view from the {(first ? "left" : "right")}, {(first ? "first" : "third")}-angle projection";
        return Shape("svg",
            Set("viewBox", $"0 0 {Number(PaperWidth_mm)} {Number(total)}"), Set("width", $"{Number(PaperWidth_mm)}mm"), Set("height", $"{Number(total)}mm"),
            Set("role", "img"), Set("aria-labelledby", "general-title"), Set("class", "drawing"),
            Shape("title", Set("id", "general-title"), words),
            Shape("rect", Set("class", "frame"), Set("x", 1), Set("y", 1), Set("width", PaperWidth_mm - 2), Set("height", total - 2)),
            Lines(frontSheet, front), Lines(planSheet, plan), Lines(sideSheet, side),
            CuttingPlane(planSheet, width >= depth),
            DimensionRows.Below(planSheet, along, Measured, PaperWidth_mm - Border_mm),
            DimensionRows.Left(planSheet, deep, Measured, first),
            DimensionRows.Left(frontSheet, high, Measured, !first),
            ScaleBar.Draw(Border_mm + 2, bottom + 4, 40, r, TextHeight_mm, numbers),
            PlanSheet.Letters(PaperWidth_mm - Border_mm - 2, bottom + 4, "pattern sizes; in brackets those of the finished part", "end", size: 2.5),
            TitleBlock.Draw(kit, "General drawing", scale, 1, total - TitleBlock.Height_mm - 1, PaperWidth_mm - 2, font));
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

    private static bool IsLettering(Kit kit, Vec3 p) => Math.Abs(p.Z - kit.Parting.PatternHeight_mm) < Lettering_mm
        && kit.Plan.Marks.Any(m => m.Region.Geometry.EnvelopeInternal is var e && p.X > e.MinX - 0.1 && p.X < e.MaxX + 0.1 && p.Y > e.MinY - 0.1 && p.Y < e.MaxY + 0.1);

    /// <summary>The whole, and the measures of the job that lie along an axis, on the pattern with the nominal in brackets.</summary>
    private static IEnumerable<ViewDimension> Sizes(Kit kit, SheetNumbers numbers, LineView view, int axis)
    {
        double Of(Vec3 p) => axis switch { 0 => p.X, 1 => p.Y, _ => p.Z };
        var (low, high) = axis == 0 ? (view.Low.X, view.High.X) : (view.Low.Y, view.High.Y);
        // Core prints and further castings are no part of the part.
        var nominal = kit.CastingCount == 1 && kit.Cores.IsEmpty ? $" ({numbers.Length(Of(kit.PartBox_mm.Size))})" : "";
        yield return new(low, high, numbers.Length(high - low) + nominal);
        foreach (var (measure, result) in kit.Job.Measures.Zip(kit.Measures))
        {
            var way = measure.To_mm - measure.From_mm;
            if (result.Pattern_mm is not { } size || Math.Abs(Of(way)) < 0.999 * way.Length) continue;
            // In the middle of the two ends as drawn, as long as the pattern is there.
            var middle = kit.Scale * (Of(measure.From_mm) + Of(measure.To_mm)) / 2;
            // The whole is not told twice.
            if (Math.Abs(size - (high - low)) < 0.005) continue;
            yield return new(middle - (size / 2), middle + (size / 2), $"{numbers.Length(size)} ({numbers.Length(measure.Nominal_mm)})");
        }
    }
}
