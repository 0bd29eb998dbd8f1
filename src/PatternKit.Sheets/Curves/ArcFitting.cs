using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Sheets.Curves;

/// <summary>
/// Finds the lines and arcs behind a flattened ring. Starting at a joint, the longest run of vertices that lies on one
/// circle, and the longest that lies on one line, are compared, and the one that reaches farther becomes a segment.
/// A circle is believed only where every chord of the run is as short as flattening would have made it: its sagitta keeps
/// within <see cref="LargestSagitta_mm"/>. So a hexagon stays a hexagon, though its corners lie on a circle.
/// </summary>
public static class ArcFitting
{
    /// <summary>Largest height of an arc over its chord, mm, at which chords count as a flattened arc.</summary>
    public const double LargestSagitta_mm = 0.02;

    // Three points lie on a circle always; the fourth proves it.
    private const int LeastChords = 3;

    // Chords of a flattened arc turn by an eighth of the circle at most.
    private const double LargestTurn = (Math.PI / 4) + 1e-6;

    /// <summary>
    /// The closed path of lines and arcs whose arcs pass all vertices of their run within <paramref name="tolerance"/>
    /// and whose joints are vertices of the ring; a ring that is one circle becomes a circle of two half turns.
    /// </summary>
    /// <param name="ring">At least three points, the first not repeated.</param>
    /// <param name="tolerance">Largest distance of a vertex from its line or arc, mm, above zero.</param>
    /// <exception cref="ArgumentException">Fewer points, or no tolerance.</exception>
    public static PlanPath Fit(ImmutableArray<Vec2> ring, double tolerance)
    {
        if (ring.Length < 3) throw new ArgumentException("A ring needs three points.", nameof(ring));
        if (!(tolerance > 0)) throw new ArgumentException("The tolerance must be above zero.", nameof(tolerance));
        if (WholeCircle(ring, tolerance) is { } circle) return circle;
        var start = FirstJoint(ring, tolerance);
        var vertices = ImmutableArray.CreateBuilder<PlanVertex>();
        for (var at = 0; at < ring.Length;)
        {
            var (reach, bulge) = Longest(ring, start + at, ring.Length - at, tolerance);
            vertices.Add(new(Point(ring, start + at), bulge));
            at += reach;
        }

        // A ring thinner than the tolerance shrinks to one line and back; it is kept as it is.
        return vertices.Count < 3 && vertices.All(v => v.Bulge == 0) ? PlanPath.Polygon(ring.AsSpan()) : new(vertices.ToImmutable(), true);
    }

    // The end of an arc is a joint; where there is no arc, the sharpest corner is.
    private static int FirstJoint(ImmutableArray<Vec2> ring, double tolerance)
    {
        for (var at = 0; at < ring.Length;)
        {
            var (reach, bulge) = Longest(ring, at, ring.Length - 1, tolerance);
            at += reach;
            if (bulge != 0) return at % ring.Length;
        }

        return Enumerable.Range(0, ring.Length).MaxBy(i => Math.Abs(Turn(ring, i)));
    }

    private static (int Reach, double Bulge) Longest(ImmutableArray<Vec2> ring, int start, int most, double tolerance)
    {
        var line = Farthest(1, most, n => IsLine(ring, start, n, tolerance));
        if (most < LeastChords || ArcBulge(ring, start, LeastChords, tolerance) is null) return (line, 0);
        var arc = Farthest(LeastChords, most, n => ArcBulge(ring, start, n, tolerance) is not null);
        // A line that ends in the first chord of an arc may pass for a very flat arc; two chords more must tell them apart.
        return arc < line + 2 ? (line, 0) : (arc, ArcBulge(ring, start, arc, tolerance)!.Value);
    }

    // Largest count for which the property holds, assuming that it holds for all smaller ones: doubling, then halving.
    private static int Farthest(int least, int most, Func<int, bool> holds)
    {
        var good = least;
        var bad = most + 1;
        for (var step = 1; good + step < bad; step *= 2)
        {
            if (holds(good + step)) good += step;
            else bad = good + step;
        }

        while (bad - good > 1)
        {
            var middle = good + ((bad - good) / 2);
            if (holds(middle)) good = middle;
            else bad = middle;
        }

        return good;
    }

    private static bool IsLine(ImmutableArray<Vec2> ring, int start, int chords, double tolerance)
    {
        var (from, to) = (Point(ring, start), Point(ring, start + chords));
        var along = to - from;
        if (along.Length <= tolerance && chords > 1) return false;
        var last = 0.0;
        for (var i = 1; i < chords; i++)
        {
            var arm = Point(ring, start + i) - from;
            var share = Vec2.Dot(arm, along) / along.LengthSquared;
            // Half the tolerance: what is left belongs to arcs. No vertex may lie behind the one before it.
            if (!(Math.Abs(Vec2.Cross(arm, along)) <= tolerance / 2 * along.Length) || share < last || share > 1) return false;
            last = share;
        }

        return true;
    }

    // Bulge of the arc over a run of chords, or null where the run is no arc. The arc goes through both ends and the middle.
    private static double? ArcBulge(ImmutableArray<Vec2> ring, int start, int chords, double tolerance)
    {
        var (from, to) = (Point(ring, start), Point(ring, start + chords));
        if (Circle(from, Point(ring, start + (chords / 2)), to) is not { } circle) return null;
        if (Sweep(ring, start, chords, circle.Centre, circle.Radius, tolerance) is not { } sweep || Math.Abs(sweep) >= 2 * Math.PI) return null;
        return Math.Tan(sweep / 4);
    }

    // Signed angle that a run sweeps about the centre; null where a vertex is off the circle, a chord too long, or the sense changes.
    private static double? Sweep(ImmutableArray<Vec2> ring, int start, int chords, Vec2 centre, double radius, double tolerance)
    {
        double sweep = 0;
        var arm = Point(ring, start) - centre;
        if (Math.Abs(arm.Length - radius) > tolerance) return null;
        for (var i = 1; i <= chords; i++)
        {
            var next = Point(ring, start + i) - centre;
            if (Math.Abs(next.Length - radius) > tolerance) return null;
            var turn = Math.Atan2(Vec2.Cross(arm, next), Vec2.Dot(arm, next));
            if (turn == 0 || turn * sweep < 0 || Math.Abs(turn) > LargestTurn) return null;
            if (radius * (1 - Math.Cos(turn / 2)) > LargestSagitta_mm) return null;
            sweep += turn;
            arm = next;
        }

        return sweep;
    }

    private static PlanPath? WholeCircle(ImmutableArray<Vec2> ring, double tolerance)
    {
        var n = ring.Length;
        if (n < 6 || Circle(ring[0], ring[n / 3], ring[2 * n / 3]) is not { } rough) return null;
        if (Sweep(ring, 0, n, rough.Centre, rough.Radius, tolerance) is not { } sweep || Math.Abs(Math.Abs(sweep) - (2 * Math.PI)) > 1e-6) return null;
        var path = PlanPath.Circle(rough.Centre, 2 * rough.Radius);
        return sweep > 0 ? path : path.Reversed();
    }

    private static (Vec2 Centre, double Radius)? Circle(Vec2 a, Vec2 b, Vec2 c)
    {
        var (u, v) = (b - a, c - a);
        var twice = 2 * Vec2.Cross(u, v);
        // Points on a line: no circle that drawing could tell from it.
        if (Math.Abs(twice) < 1e-9 * u.Length * v.Length) return null;
        var arm = new Vec2((v.Y * u.LengthSquared) - (u.Y * v.LengthSquared), (u.X * v.LengthSquared) - (v.X * u.LengthSquared)) / twice;
        return arm.IsFinite ? (a + arm, arm.Length) : null;
    }

    private static double Turn(ImmutableArray<Vec2> ring, int at)
    {
        var (a, b, c) = (Point(ring, at + ring.Length - 1), ring[at], Point(ring, at + 1));
        return Math.Atan2(Vec2.Cross(b - a, c - b), Vec2.Dot(b - a, c - b));
    }

    private static Vec2 Point(ImmutableArray<Vec2> ring, int at) => ring[at % ring.Length];
}
