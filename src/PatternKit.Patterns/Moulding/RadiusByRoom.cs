using PatternKit.Foundry;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// The largest radius that narrow places leave to an arc: no more of their width than its share. Closing or opening with a disc shows where it is narrow,
/// but for corners, which hold less than the square of the disc's radius.
/// </summary>
internal static class RadiusByRoom
{
    /// <summary>Offsets that radii are judged by need no finer arcs, mm.</summary>
    public const double Chord_mm = 0.05;

    /// <summary>The radius wanted, or the largest of the series below it that has room; 0 where none has.</summary>
    /// <param name="table">The series, and the share of a floor that a fillet may take.</param>
    /// <param name="wanted_mm">The radius wanted.</param>
    /// <param name="draft">Least angle of the walls, radians.</param>
    /// <param name="narrow">What is narrower than a disc of a radius, in mm.</param>
    /// <param name="edge">What the arc lies at.</param>
    /// <param name="within_mm">Narrow places nearer to it than this count.</param>
    public static double Largest(FilletTable table, double wanted_mm, double draft, Func<double, IEnumerable<PlanRegion>> narrow, NetTopologySuite.Geometries.Geometry edge, double within_mm)
    {
        var narrowAt_mm = double.PositiveInfinity;
        foreach (var radius_mm in table.Series_mm.Where(r => r < wanted_mm).Append(wanted_mm).Reverse())
        {
            if (radius_mm >= narrowAt_mm) continue;
            // Of a short neck a large disc leaves less than a corner may have: smaller ones tell them apart.
            // They are of the series, so that what is narrow is sought once for all edges of a region.
            for (double? disc_mm = radius_mm; disc_mm is { } r && radius_mm < narrowAt_mm; disc_mm = table.Series_mm.Where(s => s <= r / 2).Select(s => (double?)s).LastOrDefault())
                if (IsNarrow(r)) narrowAt_mm = r;
            if (radius_mm < narrowAt_mm) return radius_mm;
        }

        return 0;

        bool IsNarrow(double radius_mm)
        {
            var half = radius_mm * Math.Tan((Math.PI / 4) - (draft / 2)) / table.GapShare.Value / 2;
            return narrow(half).SelectMany(r => r.Pieces()).Any(p => p.Area > half * half && p.Geometry.IsWithinDistance(edge, within_mm));
        }
    }

    /// <summary>What closing with a disc adds: gaps, and corners.</summary>
    public static PlanRegion Gaps(PlanRegion region, double radius)
    {
        var plain = Plain(region);
        return plain.Offset(radius, Chord_mm).Offset(-radius, Chord_mm).Difference(plain);
    }

    /// <summary>What opening with a disc takes away: necks, and corners.</summary>
    public static PlanRegion Necks(PlanRegion region, double radius)
    {
        var plain = Plain(region);
        return plain.Difference(plain.Offset(-radius, Chord_mm).Offset(radius, Chord_mm));
    }

    /// <summary>Contours of drafted walls have many more points than that matters.</summary>
    private static PlanRegion Plain(PlanRegion region) =>
        PlanRegion.From(NetTopologySuite.Simplify.DouglasPeuckerSimplifier.Simplify(region.Geometry, Chord_mm / 5));
}
