using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>
/// A SPLINE: control points with knots and weights, or fit points alone. Flags: 1 closed, 2 periodic, 4 rational
/// (DXF reference, SPLINE). Points are in world coordinates.
/// </summary>
internal sealed class SplineCurve(DxfRecord entity, double tolerance, Action<int> spend)
{
    /// <summary>The curve as a chain of arcs; closed when its ends meet.</summary>
    public Drawn Draw(Affine3 map)
    {
        var control = Points(10);
        return control.Count > 0 ? FromControlPoints(control, map) : FromFitPoints(Points(11), map);
    }

    private bool IsClosed => (entity.Whole(70, 0) & 3) != 0;

    private Drawn FromControlPoints(List<Vec3> control, Affine3 map)
    {
        var degree = entity.Whole(71, 3);
        if (degree is < 1 or > DxfLimits.Degree) throw entity.Fail($"has the degree {degree}; from 1 to {DxfLimits.Degree} can be read. Redraw it.");
        var (knots, weights) = (Numbers(40), Numbers(41));
        if (weights.Count == 0) weights.AddRange(Enumerable.Repeat(1.0, control.Count));
        if (weights.Count != control.Count) throw entity.Fail($"has {weights.Count} weights for {control.Count} control points. Export the drawing again.");
        if (weights.Exists(w => !(w > 1e-9))) throw entity.Fail("has a weight that is not above zero. Redraw it.");
        // Some writers leave it to the reader to close a periodic spline: no knots, or knots for the wrapped row of points.
        var wraps = IsClosed && control.Count > degree && (knots.Count == 0 || knots.Count == control.Count + (2 * degree) + 1);
        for (var i = 0; wraps && i < degree; i++)
        {
            control.Add(control[i]);
            weights.Add(weights[i]);
        }

        if (control.Count <= degree) throw TooFew(control.Count, degree);
        if (knots.Count == 0) knots = UniformKnots(control.Count, degree, clamped: !wraps);
        CheckKnots(knots, control.Count, degree);
        var placed = control.ConvertAll(map.Point);
        if (!LiesFlat(placed)) return Drawn.Not("it climbs out of the plan");
        var spline = new BSpline(degree, [.. knots], [.. placed.Zip(weights, (p, w) => new Vec3(p.X * w, p.Y * w, w))]);
        var vertices = new List<PlanVertex>();
        var end = placed[^1].Plan;
        foreach (var (span, from, to) in spline.Spans())
        {
            // Halves at the least: a symmetric S would otherwise fit at its ends and middle alone.
            var middle = from + ((to - from) / 2);
            ArcFit.Append(vertices, t => spline.At(span, t), from, middle, Tolerance(placed), spend);
            ArcFit.Append(vertices, t => spline.At(span, t), middle, to, Tolerance(placed), spend);
            end = spline.At(span, to).At;
        }

        return Close(vertices, end, placed);
    }

    private Drawn FromFitPoints(List<Vec3> fit, Affine3 map)
    {
        if (fit.Count == 0) return Drawn.Not("it has fewer than two points");
        // Points with no more than the last digits between them are one: a chord must be long enough to divide by.
        var same = 1e-12 * Size(fit);
        var points = new List<Vec3>();
        foreach (var p in fit) if (points.Count == 0 || (p - points[^1]).Length > same) points.Add(p);
        var closed = IsClosed && points.Count > 2;
        if (closed && (points[^1] - points[0]).Length <= same) points.RemoveAt(points.Count - 1);
        if (points.Count < 2) return Drawn.Not("it has fewer than two points");
        var slopes = FitPointSpline.Slopes(points, closed, entity.OptionalPoint(12), entity.OptionalPoint(13));
        var placed = points.ConvertAll(map.Point);
        if (!LiesFlat(placed)) return Drawn.Not("it climbs out of the plan");
        var vertices = new List<PlanVertex>();
        for (var i = 0; i < (closed ? points.Count : points.Count - 1); i++)
        {
            var next = (i + 1) % points.Count;
            var chord = (points[next] - points[i]).Length;
            var (p0, m0, p1, m1) = (placed[i].Plan, map.Vector(slopes[i]).Plan, placed[next].Plan, map.Vector(slopes[next]).Plan);
            CurvePoint At(double t) => FitPointSpline.At(p0, m0, p1, m1, chord, t);
            ArcFit.Append(vertices, At, 0, chord / 2, Tolerance(placed), spend);
            ArcFit.Append(vertices, At, chord / 2, chord, Tolerance(placed), spend);
        }

        return Close(vertices, closed ? placed[0].Plan : placed[^1].Plan, placed);
    }

    // No finer than the digits of the coordinates allow.
    private double Tolerance(List<Vec3> placed) => Math.Max(tolerance, 1e-12 * Size(placed));

    private static double Size(List<Vec3> placed) => placed.Max(p => Math.Max(Math.Abs(p.X), Math.Abs(p.Y)));

    private static Drawn Close(List<PlanVertex> vertices, Vec2 end, List<Vec3> placed)
    {
        if (vertices.Count == 0) return Drawn.Not("it has no length");
        var closed = vertices.Count > 1 && Vec2.Distance(vertices[0].Point, end) <= 1e-9 * Size(placed);
        if (!closed) vertices.Add(new(end));
        return new(vertices, closed, placed[0].Z);
    }

    private static bool LiesFlat(List<Vec3> placed) => placed.TrueForAll(p => PlanFrame.IsFlat(p - placed[0]));

    private InputException TooFew(int points, int degree) =>
        entity.Fail($"has {points} control points; degree {degree} needs {degree + 1}. Export the drawing again.");

    private void CheckKnots(List<double> knots, int points, int degree)
    {
        if (knots.Count != points + degree + 1)
            throw entity.Fail($"has {knots.Count} knots; {points} control points of degree {degree} need {points + degree + 1}. Export the drawing again.");
        for (var i = 1; i < knots.Count; i++)
            if (knots[i] < knots[i - 1]) throw entity.Fail("has knots that do not ascend. Redraw it.");
        for (var i = 1; i + degree + 1 < knots.Count; i++)
            if (knots[i] == knots[i + degree] && i > degree && i + degree < points)
                throw entity.Fail($"is torn apart: a knot inside it is repeated more than {degree} times. Redraw it.");
    }

    private static List<double> UniformKnots(int points, int degree, bool clamped) =>
        [.. Enumerable.Range(0, points + degree + 1).Select(i => clamped ? (double)Math.Clamp(i, degree, points) : i)];

    private List<double> Numbers(int code)
    {
        var numbers = new List<double>();
        foreach (ref readonly var tag in entity.Tags.Span)
            if (tag.Code == code) numbers.Add(entity.NumberOf(tag));
        return numbers;
    }

    private List<Vec3> Points(int code)
    {
        var points = new List<Vec3>();
        double? x = null, y = null;
        foreach (ref readonly var tag in entity.Tags.Span)
        {
            if (tag.Code == code)
            {
                Flush();
                x = entity.NumberOf(tag);
            }
            else if (tag.Code == code + 10)
            {
                y = entity.NumberOf(tag);
            }
            else if (tag.Code == code + 20 && x is not null && y is not null)
            {
                points.Add(new(x.Value, y.Value, entity.NumberOf(tag)));
                (x, y) = (null, null);
            }
        }

        Flush();
        return points;

        void Flush()
        {
            if (x is null && y is null) return;
            if (x is null || y is null) throw entity.Fail("has a point with one coordinate only. Export the drawing again.");
            points.Add(new(x.Value, y.Value, 0));
            (x, y) = (null, null);
        }
    }
}
