using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>A point of a plane curve and the derivative there.</summary>
internal readonly record struct CurvePoint(Vec2 At, Vec2 Derivative);

/// <summary>
/// Replaces a smooth plane curve by tangent pairs of arcs (biarcs; Bolton 1975, "Biarc curves", Computer-Aided Design 7).
/// Ends and end tangents are kept, so the chain stays smooth; a piece is halved until samples of it lie within the tolerance.
/// </summary>
internal static class ArcFit
{
    private const int Samples = 12;
    private const int MaxHalvings = 14;

    /// <summary>Appends the vertices of the fitted chain from <paramref name="from"/> on, without the end point.</summary>
    public static void Append(List<PlanVertex> vertices, Func<double, CurvePoint> curve, double from, double to, double tolerance, Action<int> spend) =>
        Append(vertices, curve, from, curve(from), to, curve(to), tolerance, spend, 0);

    private static void Append(List<PlanVertex> vertices, Func<double, CurvePoint> curve, double from, CurvePoint start,
        double to, CurvePoint end, double tolerance, Action<int> spend, int halvings)
    {
        Span<PlanVertex> piece = stackalloc PlanVertex[3];
        var count = Biarc(start, end, tolerance, piece);
        if (count > 0 && !Follows(curve, from, to, piece[..count], tolerance)) count = 0;
        if (count == 0 && halvings < MaxHalvings)
        {
            var middle = from + ((to - from) / 2);
            var at = curve(middle);
            Append(vertices, curve, from, start, middle, at, tolerance, spend, halvings + 1);
            Append(vertices, curve, middle, at, to, end, tolerance, spend, halvings + 1);
            return;
        }

        if (count == 0) (piece[0], count) = (new(start.At), 2);
        spend(count - 1);
        for (var i = 0; i < count - 1; i++) vertices.Add(piece[i]);
    }

    // Biarc with tangent lengths equal at both ends: the joint lies midway between the ends of the two tangents.
    private static int Biarc(CurvePoint start, CurvePoint end, double tolerance, Span<PlanVertex> piece)
    {
        var chord = end.At - start.At;
        if (chord.Length == 0 || start.Derivative.Length == 0 || end.Derivative.Length == 0) return 0;
        var (t0, t1) = (start.Derivative.Normalized(), end.Derivative.Normalized());
        if (!t0.IsFinite || !t1.IsFinite) return 0;
        if (Vec2.Dot(t0, chord) <= 0 || Vec2.Dot(t1, chord) <= 0) return 0;
        var sum = t0 + t1;
        var along = Vec2.Dot(chord, sum);
        var bend = 2 * (1 - Vec2.Dot(t0, t1));
        var reach = bend < 1e-12
            ? chord.LengthSquared / (2 * along)
            : ((-along) + Math.Sqrt((along * along) + (bend * chord.LengthSquared))) / bend;
        var joint = start.At + (0.5 * (chord + (reach * (t0 - t1))));
        var (first, second) = (joint - start.At, end.At - joint);
        if (!(first.Length > 0) || !(second.Length > 0)) return 0;
        var bulge0 = Math.Tan(Math.Atan2(Vec2.Cross(t0, first), Vec2.Dot(t0, first)) / 2);
        var bulge1 = Math.Tan(Math.Atan2(Vec2.Cross(second, t1), Vec2.Dot(second, t1)) / 2);
        // Straight for all purposes: the sagitta is half the chord times the bulge.
        var straight = Math.Abs(bulge0) * first.Length < tolerance / 100 && Math.Abs(bulge1) * second.Length < tolerance / 100;
        if (straight)
        {
            (piece[0], piece[1]) = (new(start.At), new(end.At));
            return 2;
        }

        (piece[0], piece[1], piece[2]) = (new(start.At, bulge0), new(joint, bulge1), new(end.At));
        return 3;
    }

    private static bool Follows(Func<double, CurvePoint> curve, double from, double to, ReadOnlySpan<PlanVertex> piece, double tolerance)
    {
        for (var i = 1; i < Samples; i++)
        {
            var at = curve(from + ((to - from) * i / Samples)).At;
            var nearest = double.PositiveInfinity;
            for (var k = 0; k + 1 < piece.Length; k++)
                nearest = Math.Min(nearest, SegmentDistance.To(new(piece[k].Point, piece[k + 1].Point, piece[k].Bulge), at));
            // The margin covers what lies between the samples.
            if (!(nearest <= 0.8 * tolerance)) return false;
        }

        return true;
    }
}

/// <summary>Distance of points from a straight segment or arc.</summary>
internal static class SegmentDistance
{
    /// <summary>Distance from <paramref name="p"/> to the nearest point of the segment.</summary>
    public static double To(PlanSegment segment, Vec2 p)
    {
        var chord = segment.End - segment.Start;
        if (Math.Abs(segment.Bulge) < 1e-9)
        {
            var share = chord.LengthSquared == 0 ? 0 : Math.Clamp(Vec2.Dot(p - segment.Start, chord) / chord.LengthSquared, 0, 1);
            return Vec2.Distance(p, segment.Start + (share * chord));
        }

        var centre = segment.Centre;
        var (a, b) = (segment.Start - centre, p - centre);
        var turn = Math.Atan2(Vec2.Cross(a, b), Vec2.Dot(a, b)) * Math.Sign(segment.Bulge);
        if (turn < 0) turn += 2 * Math.PI;
        return turn <= Math.Abs(segment.Sweep)
            ? Math.Abs(b.Length - segment.Radius)
            : Math.Min(Vec2.Distance(p, segment.Start), Vec2.Distance(p, segment.End));
    }
}
