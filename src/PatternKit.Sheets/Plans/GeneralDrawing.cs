using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Plans;

/// <summary>The general drawing of the closed pattern, sizes of the pattern with the nominal beside.</summary>
internal static class GeneralDrawing
{
    // Lettering on the joint lies so near to it.
    private const double Lettering_mm = 3;

    /// <summary>The drawing; null where there is no body.</summary>
    public static XElement? Draw(Kit kit, SheetNumbers numbers)
    {
        if (kit.Bodies.IsEmpty) return null;
        var plane = SectionPlane.Of(kit);
        return ViewDrawing.Draw(kit, numbers, new(
            new("general", "General drawing", "General drawing of the closed pattern"), [.. kit.Bodies.Concat(kit.Loose.Select(l => l.Body)).Select(b => EdgedMesh.Of(b.InMould))], (view, axis) => Sizes(kit, numbers, view, axis),
            "pattern sizes; in brackets those of the finished part")
        {
            LeavesOut = (p, q) => IsLettering(kit, p) && IsLettering(kit, q),
            Axes = CentreLine.Of(kit),
            Planes = [new(SectionView.Letter, plane.Point.Plan, plane.Sight)],
        });
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
