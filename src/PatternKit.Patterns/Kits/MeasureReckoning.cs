using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Kits;

/// <summary>
/// Follows the dimensions of a job onto the pattern: each end is moved along the dimension to the nearest surface of the drafted
/// pattern; an end without a surface near (a centre) stays where contraction puts it.
/// </summary>
/// <param name="cope">Upper half without prints.</param>
/// <param name="drag">Lower half without prints.</param>
/// <param name="undrafted">The casting at pattern size before draft, stock put on.</param>
/// <param name="frame">From job to pattern.</param>
/// <param name="allowances">Contraction, rapping, stock, draft.</param>
/// <param name="alloy">The metal.</param>
/// <param name="sand">The mould's sand.</param>
/// <param name="tables">Spread, the shop's own castings included.</param>
internal sealed class MeasureReckoning(HalfMould cope, HalfMould drag, UndraftedMetal undrafted, PatternFrame frame, Allowances allowances, Alloy alloy, Sand sand, FoundryTables tables)
{
    /// <summary>How far beyond stock and draft a surface is looked for, mm.</summary>
    private const double Search_mm = 1;

    /// <summary>How far from a surface it is looked where the metal is, mm.</summary>
    private const double Beside_mm = 0.02;

    /// <summary>Less stock is the rounding to the lattice, mm.</summary>
    private const double LeastStock_mm = 0.02;

    private readonly ContractionFit? fit = tables.Workshop.Fit(alloy, sand, tables.Mould.Spread);

    /// <summary>How far from an end a surface is looked for, mm.</summary>
    private double Reach
    {
        get
        {
            var stock = allowances.Stock.Value.Each.Max(s => new[] { s.Top_mm, s.Bottom_mm, s.Sides_mm, s.Holes_mm, s.Names_mm?.Values.DefaultIfEmpty(0).Max() ?? 0 }.Max());
            return Search_mm + (frame.Scale * stock)
                + (Math.Tan(Math.Max(allowances.DraftOutside.Value, allowances.DraftInside.Value)) * (Height(cope) + Height(drag)));
        }
    }

    /// <summary>The dimension on the pattern, as cast, its casting tolerance, the spread of the shop, and what of it a tool is to take off.</summary>
    public MeasureResult Of(Measure m)
    {
        var (a, b) = (frame.ToPattern(m.From_mm), frame.ToPattern(m.To_mm));
        var along = (b - a).Length > 0 ? 1 / (b - a).Length * (b - a) : new Vec3(1, 0, 0);
        var (start, end) = (Crossing(a, along, Inside), Crossing(b, along, Inside));
        var pattern = Vec3.Dot(along, b - a) + (end ?? 0) - (start ?? 0);
        var level = Math.Abs(along.Z) < 0.5;
        var (first, last) = (MetalAhead(a + ((start ?? 0) * along), along, start), MetalAhead(b + ((end ?? 0) * along), -1 * along, end));
        // Rapping moves every wall away from the metal's middle: outer sizes grow, holes shrink.
        double Rapped(bool? metalBetween) => level && metalBetween is { } between ? (between ? 1 : -1) * allowances.Rapping_mm.Value : 0;
        var rapping = Rapped(first) + Rapped(last);
        var asCast = (pattern + rapping) / frame.Scale;
        var grade = CastingTolerance.UsualGrade(tables.Machining, alloy.Family, sand.Bond, Math.Max(m.Nominal_mm, 0.1));
        var tolerance = CastingTolerance.Total(tables.Machining, grade.Value, Math.Max(m.Nominal_mm, 0.1));
        // Metal lies between the ends, or beyond both; of a step it lies once here, once there.
        bool? inner = first is null ? last : last is null || last == first ? first : null;
        return new(m.Name, m.Nominal_mm, pattern, asCast, tolerance.Value / 2, $"{tolerance.Rule}; {tolerance.Source}; grade: {grade.Rule}")
        {
            Spread_mm = tables.Mould.Spread.For(asCast, fit),
            Rapping_mm = rapping,
            IsOuter = inner,
            Left_mm = inner is { } outside ? (outside ? 1 : -1) * (asCast - m.Nominal_mm) : null,
            Stock_mm = Stock(a, -1 * along, first, level) + Stock(b, along, last, level),
            // A mate needs two faces.
            Fit = m.Mate_mm is { } mate && first is not null && last is not null && inner is { } over ? FitOf(m, mate, !over, asCast) : null,
        };
    }

    private static MateFit FitOf(Measure m, double mate_mm, bool isHole, double asCast_mm)
    {
        var sign = isHole ? 1 : -1;
        return new(mate_mm, m.Clearance_mm, isHole, sign * (asCast_mm - mate_mm), sign * (m.Nominal_mm - mate_mm));
    }

    /// <summary>Whether metal lies on the side of a surface that a direction leads to; null where no surface was met.</summary>
    private bool? MetalAhead(Vec3 surface, Vec3 direction, double? met) => met is null ? null : Inside(surface + (Beside_mm * direction));

    /// <summary>The stock at an end: how far the undrafted casting, grown again by rapping, lies beyond it.</summary>
    /// <param name="p">The end.</param>
    /// <param name="outward">Away from the other end.</param>
    /// <param name="metalBetween">Whether the metal lies towards the other end.</param>
    /// <param name="level">Whether the end is a wall, which rapping moves.</param>
    private double Stock(Vec3 p, Vec3 outward, bool? metalBetween, bool level)
    {
        if (metalBetween is not { } between) return 0;
        if (Crossing(p, outward, undrafted.Between(p - (Reach * outward), p + (Reach * outward))) is not { } beyond) return 0;
        var stock = ((between ? beyond : -beyond) + (level ? allowances.Rapping_mm.Value : 0)) / frame.Scale;
        return stock > LeastStock_mm ? stock : 0;
    }

    /// <summary>Signed distance from a point along a line to the nearest surface crossed; null where none is near.</summary>
    private double? Crossing(Vec3 p, Vec3 along, Func<Vec3, bool> inside)
    {
        var reach = Reach;
        const int steps = 400;
        double? best = null;
        var before = inside(p - (reach * along));
        for (var i = 1; i <= steps; i++)
        {
            var t = reach * ((2.0 * i / steps) - 1);
            var here = inside(p + (t * along));
            if (here == before) continue;
            before = here;
            double low = t - (2 * reach / steps), high = t;
            for (var k = 0; k < 40; k++)
            {
                var middle = (low + high) / 2;
                if (inside(p + (middle * along)) == here) high = middle;
                else low = middle;
            }

            if (best is null || Math.Abs(high) < Math.Abs(best.Value)) best = high;
        }

        return best;
    }

    private static double Height(HalfMould half) => half.Upper.Levels.IsEmpty ? 0 : half.Upper.Levels[0] - half.Joint_mm;

    private bool Inside(Vec3 p) => Contains(cope, p.Plan, p.Z) || Contains(drag, p.Plan, -p.Z);

    private static bool Contains(HalfMould half, Vec2 p, double z) =>
        z >= half.JointAt(p) && z < half.Upper.At(p).Height && (half.Under is null || -half.Under.At(p).Height <= z);
}
