using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Kits;

/// <summary>
/// Follows the dimensions of a job onto the pattern: each end is moved along the dimension to the nearest surface of the drafted
/// pattern; an end without a surface near (a centre) stays where contraction puts it.
/// </summary>
internal sealed class MeasureReckoning(HalfMould cope, HalfMould drag, PatternFrame frame, Allowances allowances, Alloy alloy, Sand sand)
{
    /// <summary>How far beyond stock and draft a surface is looked for, mm.</summary>
    private const double Search_mm = 1;

    /// <summary>The dimension on the pattern, as cast, and its casting tolerance.</summary>
    public MeasureResult Of(Measure m)
    {
        var (a, b) = (frame.ToPattern(m.From_mm), frame.ToPattern(m.To_mm));
        var along = (b - a).Length > 0 ? 1 / (b - a).Length * (b - a) : new Vec3(1, 0, 0);
        var (start, end) = (Surface(a, along), Surface(b, along));
        var pattern = Vec3.Dot(along, b - a) + end - start;
        var walls = Math.Abs(along.Z) < 0.5 ? (start == 0 ? 0 : 1) + (end == 0 ? 0 : 1) : 0;
        var asCast = (pattern + (walls * allowances.Rapping_mm.Value)) / frame.Scale;
        var grade = CastingTolerance.UsualGrade(alloy.Family, sand.Bond, Math.Max(m.Nominal_mm, 0.1));
        var tolerance = CastingTolerance.Total(grade.Value, Math.Max(m.Nominal_mm, 0.1));
        return new(m.Name, m.Nominal_mm, pattern, asCast, tolerance.Value / 2, $"{tolerance.Rule}; {tolerance.Source}; grade: {grade.Rule}");
    }

    /// <summary>Signed distance from a point along a line to the nearest surface crossed, 0 where none is near.</summary>
    private double Surface(Vec3 p, Vec3 along)
    {
        var stock = allowances.Stock.Value;
        var reach = Search_mm + (frame.Scale * new[] { stock.Top_mm, stock.Bottom_mm, stock.Sides_mm, stock.Holes_mm, stock.Names_mm?.Values.DefaultIfEmpty(0).Max() ?? 0 }.Max())
            + (Math.Tan(Math.Max(allowances.DraftOutside.Value, allowances.DraftInside.Value)) * (Height(cope) + Height(drag)));
        const int steps = 400;
        double? best = null;
        var before = Inside(p - (reach * along));
        for (var i = 1; i <= steps; i++)
        {
            var t = reach * ((2.0 * i / steps) - 1);
            var here = Inside(p + (t * along));
            if (here == before) continue;
            before = here;
            double low = t - (2 * reach / steps), high = t;
            for (var k = 0; k < 40; k++)
            {
                var middle = (low + high) / 2;
                if (Inside(p + (middle * along)) == here) high = middle;
                else low = middle;
            }

            if (best is null || Math.Abs(high) < Math.Abs(best.Value)) best = high;
        }

        return best ?? 0;
    }

    private static double Height(HalfMould half) => half.Upper.Levels.IsEmpty ? 0 : half.Upper.Levels[0] - half.Joint_mm;

    private bool Inside(Vec3 p) => Contains(cope, p.Plan, p.Z) || Contains(drag, p.Plan, -p.Z);

    private static bool Contains(HalfMould half, Vec2 p, double z) =>
        z >= half.JointAt(p) && z < half.Upper.At(p).Height && (half.Under is null || -half.Under.At(p).Height <= z);
}
