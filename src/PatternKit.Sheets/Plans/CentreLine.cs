using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The axis of something round, drawn as a chain line a little beyond it, or as a cross where it is seen along (ISO 128-2, line type 04.1).</summary>
/// <param name="From">One end, pattern millimetres.</param>
/// <param name="To">The other.</param>
/// <param name="Radius_mm">Largest of what turns about it.</param>
internal sealed record CentreLine(Vec3 From, Vec3 To, double Radius_mm)
{
    private const double Beyond_mm = 2.5, Chord_mm = 0.01, Same_mm = 0.01;

    /// <summary>Axes of turned features and of round outlines that the pattern shows, one for all that stands about the same; empty for a mesh, which has no features.</summary>
    public static ImmutableArray<CentreLine> Of(Kit kit)
    {
        var shown = kit.Job.Features.Where(f => f.Text is null && f.Cut != CutKind.Machined).SelectMany(Round).ToArray();
        return
        [
            .. shown.GroupBy(s => (s.Axis, Math.Round(s.Foot.X / Same_mm), Math.Round(s.Foot.Y / Same_mm)))
                .Select(g => g.Aggregate((a, b) => a with { Low = Math.Min(a.Low, b.Low), High = Math.Max(a.High, b.High), Radius = Math.Max(a.Radius, b.Radius) }))
                .Select(s => new CentreLine(kit.Scale * s.At(s.Low), kit.Scale * s.At(s.High), kit.Scale * s.Radius)),
        ];
    }

    /// <summary>Draws it on a view.</summary>
    /// <param name="sheet">The view.</param>
    /// <param name="inView">To the right and upward.</param>
    public XElement Draw(PlanSheet sheet, Func<Vec3, Vec2> inView)
    {
        var (a, b) = (sheet.Paper(inView(From)), sheet.Paper(inView(To)));
        if (Vec2.Distance(a, b) > 0.1) return Line(a, b);
        var arm = sheet.Scale.Ratio * Radius_mm;
        return Shape("g", Line(a - new Vec2(arm, 0), a + new Vec2(arm, 0)), Line(a - new Vec2(0, arm), a + new Vec2(0, arm)));
    }

    private static XElement Line(Vec2 a, Vec2 b)
    {
        var (from, to) = (a - (Beyond_mm * (b - a).Normalized()), b + (Beyond_mm * (b - a).Normalized()));
        return PlanSheet.Line(from.X, from.Y, to.X, to.Y, "centre");
    }

    private static IEnumerable<Turn> Round(Feature feature)
    {
        if (feature.Turned is { } turned)
        {
            var (low, high) = PartingPlan.Box(PlanRegion.EvenOdd([.. feature.Loops], Chord_mm));
            var (at, axis) = (turned.At_mm, turned.Axis);
            var (along, foot) = axis switch { TurnedAxis.X => (at.X, new Vec2(at.Y, at.Z)), TurnedAxis.Y => (at.Y, new(at.X, at.Z)), _ => (at.Z, at.Plan) };
            return [new(axis, foot, along + low.X, along + high.X, high.Y)];
        }

        return feature.Loops.Select(l => PlanRegion.EvenOdd([l], Chord_mm)).Where(IsRound).Select(r => new Turn(TurnedAxis.Z, r.Centroid, feature.Low_mm, feature.High_mm, Math.Sqrt(r.Area / Math.PI)));
    }

    // As wide as high, and of the area of that circle.
    private static bool IsRound(PlanRegion region) => !region.IsEmpty && PartingPlan.Box(region) is var (low, high) && high - low is var size
        && Math.Abs(size.X - size.Y) < 0.005 * size.X && Math.Abs(region.Area - (Math.PI / 4 * size.X * size.Y)) < 0.01 * region.Area;

    // What turns about an axis that passes the other two coordinates at its foot, from one place along it to another.
    private readonly record struct Turn(TurnedAxis Axis, Vec2 Foot, double Low, double High, double Radius)
    {
        public Vec3 At(double along) => Axis switch { TurnedAxis.X => new(along, Foot.X, Foot.Y), TurnedAxis.Y => new(Foot.X, along, Foot.Y), _ => new(Foot.X, Foot.Y, along) };
    }
}
