using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parts;

/// <summary>
/// Flattens arcs so that all arcs of one circle, in whatever outline, have the same corners: stations at fixed angles of
/// the circle, and every end of an arc on it. Otherwise two walls on one circle would leave a sliver at every chord.
/// </summary>
internal sealed class ArcStations
{
    /// <summary>Circles nearer than this in centre and radius are one, mm; coordinates in files are rounded.</summary>
    private const double SameCircle_mm = 1e-4;

    /// <summary>A fixed station this near to the end of an arc, in steps, is left out.</summary>
    private const double Crowded = 0.1;

    private readonly List<Circle> circles = [];
    private readonly double chordTolerance_mm;

    internal ArcStations(IEnumerable<PlanPath> paths, double chordTolerance_mm)
    {
        this.chordTolerance_mm = chordTolerance_mm;
        foreach (var s in paths.SelectMany(Segments).Where(s => s.IsArc))
        {
            var circle = Find(s);
            if (circle is null) circles.Add(circle = new(s.Centre, s.Radius, Step(s.Radius)));
            circle.AddEnd(s.Start);
            circle.AddEnd(s.End);
        }

        foreach (var c in circles) c.AddFixed();
    }

    /// <summary>The corners of a closed path made of the same arcs.</summary>
    internal PlanPath Flatten(PlanPath path)
    {
        var points = new List<Vec2>();
        foreach (var s in Segments(path))
        {
            if (s.IsArc) Find(s)!.Append(points, s);
            else points.Add(s.Start);
        }

        return PlanPath.Polygon([.. points]);
    }

    private static IEnumerable<PlanSegment> Segments(PlanPath path) => Enumerable.Range(0, path.SegmentCount).Select(path.Segment);

    private Circle? Find(PlanSegment arc)
    {
        var (centre, radius) = (arc.Centre, arc.Radius);
        return circles.Find(c => Math.Abs(c.Radius - radius) <= SameCircle_mm && Vec2.Distance(c.Centre, centre) <= SameCircle_mm);
    }

    /// <summary>Never coarser than an eighth of a turn; short by what a left-out station adds to a chord.</summary>
    private double Step(double radius) =>
        Math.Max(Math.Min(2 * Math.Acos(Math.Max(1 - (chordTolerance_mm / radius), -1)) / (1 + Crowded), Math.PI / 4), Math.PI / 20000);

    private sealed class Circle(Vec2 centre, double radius, double step)
    {
        private readonly SortedList<double, Vec2> stations = [];

        internal Vec2 Centre => centre;

        internal double Radius => radius;

        internal void AddEnd(Vec2 p)
        {
            var angle = Angle(p);
            if (!Near(angle, SameCircle_mm / radius)) stations.Add(angle, p);
        }

        internal void AddFixed()
        {
            var ends = stations.Keys.ToArray();
            // A multiple of four, so that a circle keeps its diameter in x and y.
            var count = 4 * (int)Math.Ceiling(Math.PI / 2 / step);
            for (var k = 0; k < count; k++)
            {
                var angle = (2 * Math.PI * k / count) - Math.PI;
                if (Array.Exists(ends, e => Between(e, angle) < Crowded * step)) continue;
                stations.Add(angle, centre + (radius * new Vec2(Math.Cos(angle), Math.Sin(angle))));
            }
        }

        /// <summary>The start of the arc and the stations inside it, in its direction.</summary>
        internal void Append(List<Vec2> points, PlanSegment arc)
        {
            var slack = 2 * SameCircle_mm / radius;
            var (start, sweep) = (Angle(arc.Start), arc.Sweep);
            var inside = stations.Select(s => (Along: Math.Sign(sweep) * (s.Key - start), s.Value))
                .Select(s => (Along: s.Along < -slack ? s.Along + (2 * Math.PI) : s.Along, s.Value))
                .Where(s => s.Along < Math.Abs(sweep) - slack).OrderBy(s => s.Along).Select(s => s.Value).ToList();
            // The first is the start itself, as it was first met.
            points.AddRange(inside);
        }

        private double Angle(Vec2 p)
        {
            var angle = Math.Atan2(p.Y - centre.Y, p.X - centre.X);
            return angle >= Math.PI - (SameCircle_mm / radius) ? angle - (2 * Math.PI) : angle;
        }

        private bool Near(double angle, double slack) => stations.Keys.Any(k => Between(k, angle) <= slack);

        private static double Between(double a, double b) => Math.Abs(Math.IEEERemainder(a - b, 2 * Math.PI));
    }
}
