using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A function of the plan integrated over a triangulation by Radon's rule of seven points (degree 5; 1948), each triangle halved until it is
/// small and then cut in four until the rule agrees with its quarters, or with a rule of degree 2 on the same points. What fillets add and what
/// rounding takes away is reckoned so, from heights alone; it knows no mesh.
/// </summary>
public sealed class PlanIntegral
{
    private const int Deepest = 10;

    private static readonly ImmutableArray<(double Weight, double Lower, double A, double B, double C)> Rule = Radon();

    private readonly Func<Vec2, double> value;
    private readonly Func<Vec2, double>? arm;
    private readonly double perTriangle;
    private readonly double widest;

    private PlanIntegral(Func<Vec2, double> value, Func<Vec2, double>? arm, double perTriangle, double widest) => (this.value, this.arm, this.perTriangle, this.widest) = (value, arm, perTriangle, widest);

    /// <summary>The integral, mm³ of heights in mm.</summary>
    /// <param name="value">The function; asked from several threads.</param>
    /// <param name="zone">Where it may differ from nothing.</param>
    /// <param name="lines">Lines of the plan between which it is smooth.</param>
    /// <param name="lattice">For the triangulation.</param>
    /// <param name="error">Wanted accuracy, mm³.</param>
    /// <param name="widest">Triangles with longer sides are halved first: something might lie, or end, between the points of a rule.</param>
    public static double Of(Func<Vec2, double> value, PlanRegion zone, IEnumerable<ImmutableArray<Vec2>> lines, Lattice lattice, double error, double widest) =>
        Of(value, null, zone, lines, lattice, error, widest).Integral;

    /// <summary>The integral, and that of the function times its arm, which is linear: from both the centre along it. The function is asked but once for both.</summary>
    /// <inheritdoc cref="Of(Func{Vec2, double}, PlanRegion, IEnumerable{ImmutableArray{Vec2}}, Lattice, double, double)"/>
    public static (double Integral, double Moment) Of(
        Func<Vec2, double> value, Func<Vec2, double>? arm, PlanRegion zone, IEnumerable<ImmutableArray<Vec2>> lines, Lattice lattice, double error, double widest)
    {
        if (zone.IsEmpty) return (0, 0);
        var zoned = ZonedTriangulation.Of(zone, lines, lattice);
        int[] inside = [.. Enumerable.Range(0, zoned.Triangles.TriangleCount).Where(t => zoned.Zone(t) == 1)];
        var sums = new (double Integral, double Moment)[inside.Length];
        var integral = new PlanIntegral(value, arm, error / Math.Sqrt(inside.Length), widest);
        Parallel.For(0, inside.Length, i =>
        {
            var (a, b, c) = (zoned.Corner(inside[i], 0), zoned.Corner(inside[i], 1), zoned.Corner(inside[i], 2));
            sums[i] = integral.Over(a, b, c);
        });
        return (sums.Sum(s => s.Integral), sums.Sum(s => s.Moment));
    }

    private (double Integral, double Moment) Over(Vec2 a, Vec2 b, Vec2 c)
    {
        // The longest side first.
        var (ab, bc, ca) = ((b - a).LengthSquared, (c - b).LengthSquared, (a - c).LengthSquared);
        if (bc >= ab && bc >= ca) (a, b, c) = (b, c, a);
        else if (ca >= ab) (a, b, c) = (c, a, b);
        if ((b - a).Length <= widest) return Cut(a, b, c, Once(a, b, c), 0);
        var middle = 0.5 * (a + b);
        return Added(Over(a, middle, c), Over(middle, b, c));
    }

    private (double Integral, double Moment) Cut(Vec2 a, Vec2 b, Vec2 c, (double Value, double Lower, double Moment) whole, int depth)
    {
        if (Math.Abs(whole.Value - whole.Lower) <= perTriangle) return (whole.Value, whole.Moment);
        var (ab, bc, ca) = (0.5 * (a + b), 0.5 * (b + c), 0.5 * (c + a));
        var (p, q, r, s) = (Once(a, ab, ca), Once(ab, b, bc), Once(ca, bc, c), Once(ab, bc, ca));
        var sum = p.Value + q.Value + r.Value + s.Value;
        if (depth == Deepest || Math.Abs(sum - whole.Value) <= perTriangle) return (sum, p.Moment + q.Moment + r.Moment + s.Moment);
        return Added(Added(Cut(a, ab, ca, p, depth + 1), Cut(ab, b, bc, q, depth + 1)), Added(Cut(ca, bc, c, r, depth + 1), Cut(ab, bc, ca, s, depth + 1)));
    }

    private static (double Integral, double Moment) Added((double Integral, double Moment) a, (double Integral, double Moment) b) => (a.Integral + b.Integral, a.Moment + b.Moment);

    private (double Value, double Lower, double Moment) Once(Vec2 a, Vec2 b, Vec2 c)
    {
        var (sum, lower, moment) = (0.0, 0.0, 0.0);
        foreach (var (weight, low, u, v, w) in Rule)
        {
            var p = (u * a) + (v * b) + (w * c);
            var at = value(p);
            (sum, lower) = (sum + (weight * at), lower + (low * at));
            if (arm is not null) moment += weight * at * arm(p);
        }

        var area = Math.Abs(Vec2.Cross(b - a, c - a)) / 2;
        return (sum * area, lower * area, moment * area);
    }

    private static ImmutableArray<(double Weight, double Lower, double A, double B, double C)> Radon()
    {
        var root = Math.Sqrt(15);
        var (near, far) = ((6 + root) / 21, (6 - root) / 21);
        var (wNear, wFar) = ((155 + root) / 1200, (155 - root) / 1200);
        // The mean of the sum of the squares of the three weights of a point is a half over the triangle; so it has to be over the six points.
        var (squareNear, squareFar) = (Squares(near), Squares(far));
        var lFar = (0.5 - squareNear) / (squareFar - squareNear) / 3;
        var lNear = (1 / 3.0) - lFar;
        return
        [
            (9 / 40.0, 0, 1 / 3.0, 1 / 3.0, 1 / 3.0),
            (wNear, lNear, 1 - (2 * near), near, near), (wNear, lNear, near, 1 - (2 * near), near), (wNear, lNear, near, near, 1 - (2 * near)),
            (wFar, lFar, 1 - (2 * far), far, far), (wFar, lFar, far, 1 - (2 * far), far), (wFar, lFar, far, far, 1 - (2 * far)),
        ];

        static double Squares(double t) => ((1 - (2 * t)) * (1 - (2 * t))) + (2 * t * t);
    }
}
