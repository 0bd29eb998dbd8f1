using NetTopologySuite.Geometries;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Casting;

/// <summary>Outlines under the bow of a camber.</summary>
internal static class Bow
{
    /// <summary>The region bowed; long edges are cut so that chords keep within the tolerance.</summary>
    internal static PlanRegion Of(PlanRegion region, PatternFrame frame, double chordTolerance_mm)
    {
        if (frame.Rise_mm == 0 || region.IsEmpty) return region;
        // The sag of a chord under the parabola 4 h u (1 − u) over a run d is h (d / length)². Edges are cut at the same
        // stations, mid length among them.
        var stations = 2 * Math.Ceiling(Math.Sqrt(Math.Abs(frame.Rise_mm) / chordTolerance_mm) / 2);
        var run = frame.Length_mm / stations;
        var result = PlanRegion.Empty;
        foreach (var polygon in Enumerable.Range(0, region.Geometry.NumGeometries).Select(region.Geometry.GetGeometryN).Cast<Polygon>())
        {
            var bowed = new Polygon(Ring(polygon.Shell, frame, run), [.. polygon.Holes.Select(h => Ring((LinearRing)h, frame, run))]);
            result = result.Union(PlanRegion.From(bowed));
        }

        return result;
    }

    private static LinearRing Ring(LinearRing ring, PatternFrame frame, double run)
    {
        var c = ring.Coordinates;
        var points = new List<Coordinate>();
        for (var i = 1; i < c.Length; i++)
        {
            var (a, b) = (new Vec2(c[i - 1].X, c[i - 1].Y), new Vec2(c[i].X, c[i].Y));
            points.Add(Bowed(frame, a));
            var (from, to) = frame.AlongX ? (a.X, b.X) : (a.Y, b.Y);
            var (first, last) = ((from - frame.Start_mm) / run, (to - frame.Start_mm) / run);
            var step = Math.Sign(last - first);
            for (var k = step > 0 ? Math.Floor(first) + 1 : Math.Ceiling(first) - 1; step * (last - k) > 0; k += step)
                points.Add(Bowed(frame, a + ((k - first) / (last - first) * (b - a))));
        }

        points.Add(points[0].Copy());
        return new([.. points]);
    }

    private static Coordinate Bowed(PatternFrame frame, Vec2 p)
    {
        var q = frame.Bowed(p);
        return new(q.X, q.Y);
    }
}
