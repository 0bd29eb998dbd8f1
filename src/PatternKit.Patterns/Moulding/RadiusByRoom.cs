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

    /// <summary>Contours of drafted walls have many more vertices than matters here.</summary>
    private const double Plain_mm = Chord_mm / 5;

    /// <summary>What is sought keeps off the walls by as much: on them both contours would lie on each other but for the last digits, which is slow to tell apart.</summary>
    private const double Clear_mm = Chord_mm / 10;

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
            if (Discs(radius_mm).Where(IsNarrow).Select(r => (double?)r).FirstOrDefault() is not { } narrow_mm) return radius_mm;
            narrowAt_mm = narrow_mm;
        }

        return 0;

        // Of a short neck a large disc leaves less than a corner may have: smaller ones tell them apart. They are of the series, so that what is narrow is sought once for all edges of a region.
        IEnumerable<double> Discs(double radius_mm)
        {
            for (var r = radius_mm; r > 0; r = table.Series_mm.LastOrDefault(s => s <= r / 2)) yield return r;
        }

        bool IsNarrow(double radius_mm)
        {
            var half = radius_mm * Math.Tan((Math.PI / 4) - (draft / 2)) / table.GapShare.Value / 2;
            return narrow(half).SelectMany(r => r.Pieces()).Any(p => p.Area > half * half && p.Geometry.IsWithinDistance(edge, within_mm));
        }
    }

    /// <summary>What closing with a disc adds: gaps, and corners.</summary>
    public static PlanRegion Gaps(PlanRegion region, double radius)
    {
        var plain = region.Simplified(Plain_mm);
        return plain.Offset(radius, Chord_mm).Offset(-radius, Chord_mm).Difference(plain.Offset(Clear_mm, Chord_mm));
    }

    /// <summary>What opening with a disc takes away: necks, and corners.</summary>
    public static PlanRegion Necks(PlanRegion region, double radius)
    {
        var plain = region.Simplified(Plain_mm);
        return plain.Offset(-Clear_mm, Chord_mm).Difference(plain.Offset(-radius, Chord_mm).Offset(radius, Chord_mm));
    }
}
