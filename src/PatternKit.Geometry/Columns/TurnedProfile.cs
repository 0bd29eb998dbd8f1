using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>
/// The profile of a body of revolution, x along the axis and y the distance from it, as straight sides, cut into
/// trapezoids by lines along one of the two.
/// </summary>
internal static class TurnedProfile
{
    /// <summary>Stations nearer than this are one, mm.</summary>
    private const double Same = 1e-9;

    /// <summary>A trapezoid between two stations: where its lower and upper side are at both.</summary>
    internal readonly record struct Trapezoid(double From, double To, double LowFrom, double LowTo, double HighFrom, double HighTo);

    /// <summary>
    /// Corners of a closed profile. Those inside an arc are put as far outside it as makes the area under its chords that of the arc.
    /// </summary>
    /// <param name="loop">Closed.</param>
    /// <param name="tolerance">Largest distance of chords and corners from the arc, mm.</param>
    internal static List<Vec2> Corners(PlanPath loop, double tolerance)
    {
        var corners = new List<Vec2>();
        for (var i = 0; i < loop.SegmentCount; i++)
        {
            var s = loop.Segment(i);
            corners.Add(s.Start);
            if (!s.IsArc) continue;
            var (radius, sweep, centre, arm) = (s.Radius, Math.Abs(s.Sweep), s.Centre, s.Start - s.Centre);
            // With two chords the corner stands out by r φ² / 6; with more by less.
            var turn = Math.Min(Math.PI / 4, Math.Sqrt(6 * tolerance / radius));
            var count = (int)Math.Clamp(Math.Ceiling(sweep / turn), 2, 2000);
            var scale = EqualAreaScale(sweep, count);
            for (var k = 1; k < count; k++)
            {
                var (sin, cos) = Math.SinCos(s.Sweep * k / count);
                var p = centre + (scale * new Vec2((cos * arm.X) - (sin * arm.Y), (sin * arm.X) + (cos * arm.Y)));
                corners.Add(p with { Y = Math.Max(0, p.Y) });
            }
        }

        return corners;
    }

    /// <summary>The trapezoids inside closed polygons, even-odd, between all stations of their corners along x.</summary>
    internal static IEnumerable<Trapezoid> Slabs(ImmutableArray<ImmutableArray<Vec2>> polygons)
    {
        var stations = new List<double>();
        foreach (var x in polygons.SelectMany(p => p).Select(p => p.X).Order())
            if (stations.Count == 0 || x - stations[^1] > Same)
                stations.Add(x);
        var sides = polygons.SelectMany(p => p.Select((a, i) => (A: a, B: p[(i + 1) % p.Length])))
            .Select(s => s.A.X <= s.B.X ? s : (A: s.B, B: s.A)).Where(s => s.B.X - s.A.X > Same).ToArray();
        for (var k = 0; k + 1 < stations.Count; k++)
        {
            var (from, to) = (stations[k], stations[k + 1]);
            var across = sides.Where(s => s.A.X <= from + Same && s.B.X >= to - Same).OrderBy(s => At(s, (from + to) / 2)).ToArray();
            for (var i = 0; i + 1 < across.Length; i += 2)
                yield return new(from, to, At(across[i], from), At(across[i], to), At(across[i + 1], from), At(across[i + 1], to));
        }
    }

    /// <summary>Value of a side at a station; that of its end near it, so that sides that meet there give the same number.</summary>
    private static double At((Vec2 A, Vec2 B) side, double x)
    {
        if (Math.Abs(x - side.A.X) <= Same) return side.A.Y;
        if (Math.Abs(x - side.B.X) <= Same) return side.B.Y;
        return side.A.Y + ((x - side.A.X) / (side.B.X - side.A.X) * (side.B.Y - side.A.Y));
    }

    /// <summary>
    /// With chords of φ each, inner corners at ρ and the two ends on the arc of radius 1, the sector has the area of the arc when
    /// ½ sin φ ((n − 2) ρ² + 2 ρ) = ½ n φ.
    /// </summary>
    private static double EqualAreaScale(double sweep, int count)
    {
        var phi = sweep / count;
        var area = count * phi / Math.Sin(phi);
        return count == 2 ? area / 2 : (-1 + Math.Sqrt(1 + ((count - 2) * area))) / (count - 2);
    }
}
