using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>
/// Orientation tests whose sign is right for all finite coordinates. Three steps: plain floating point with the
/// error bound of Shewchuk 1997 (table of error bounds, stage A); where that cannot tell and the differences are
/// doubles, an exact expansion; else whole-number arithmetic. Pure; finite input is the caller's duty.
/// </summary>
public static class ExactPredicates
{
    // (7 + 56ε)ε = 7.77e-16 and (3 + 16ε)ε = 3.33e-16 with ε = 2⁻⁵³, rounded up.
    private const double Orient3DBound = 7.8e-16;
    private const double Orient2DBound = 3.4e-16;

    // Within these sizes no product of three differences, nor what its rounding lost, under- or overflows.
    private const double Largest = 1e90;
    private const double Smallest = 1e-60;

    /// <summary>
    /// Sign of (b − a) × (c − a) · (d − a): positive when d lies on the side from which a, b, c run
    /// counter-clockwise, zero when the four are coplanar.
    /// </summary>
    public static int Orient3D(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
    {
        var (u, v, w) = (b - a, c - a, d - a);
        var (yz, zy) = (v.Y * w.Z, v.Z * w.Y);
        var (zx, xz) = (v.Z * w.X, v.X * w.Z);
        var (xy, yx) = (v.X * w.Y, v.Y * w.X);
        var det = (u.X * (yz - zy)) + (u.Y * (zx - xz)) + (u.Z * (xy - yx));
        var size = (Math.Abs(u.X) * (Math.Abs(yz) + Math.Abs(zy)))
            + (Math.Abs(u.Y) * (Math.Abs(zx) + Math.Abs(xz)))
            + (Math.Abs(u.Z) * (Math.Abs(xy) + Math.Abs(yx)));
        if (Math.Abs(det) > Orient3DBound * size && size > 1e-150 && Span(u) < Largest && Span(v) < Largest && Span(w) < Largest)
            return Math.Sign(det);

        // A plane square to an axis: the commonest coplanar case, known without any product.
        if ((u.X == 0 && v.X == 0 && w.X == 0) || (u.Y == 0 && v.Y == 0 && w.Y == 0) || (u.Z == 0 && v.Z == 0 && w.Z == 0))
            return 0;
        return IsExact(a, b) && IsExact(a, c) && IsExact(a, d) && IsTame(u) && IsTame(v) && IsTame(w)
            ? Expanded(u, v, w)
            : Whole(a, b, c, d);
    }

    /// <summary>Sign of (b − a) × (c − a): positive when a, b, c run counter-clockwise, zero when collinear.</summary>
    public static int Orient2D(Vec2 a, Vec2 b, Vec2 c)
    {
        var (u, v) = (b - a, c - a);
        var (left, right) = (u.X * v.Y, u.Y * v.X);
        var det = left - right;
        var size = Math.Abs(left) + Math.Abs(right);
        if (Math.Abs(det) > Orient2DBound * size && size > 1e-150 && size < 1e150) return Math.Sign(det);
        if ((u.X == 0 && v.X == 0) || (u.Y == 0 && v.Y == 0) || (u.X == 0 && u.Y == 0) || (v.X == 0 && v.Y == 0)) return 0;
        if (ExactSum.DifferenceIsExact(b.X, a.X) && ExactSum.DifferenceIsExact(b.Y, a.Y)
            && ExactSum.DifferenceIsExact(c.X, a.X) && ExactSum.DifferenceIsExact(c.Y, a.Y)
            && IsTame(u.X) && IsTame(u.Y) && IsTame(v.X) && IsTame(v.Y))
        {
            var (p, pLost) = ExactSum.Product(u.X, v.Y);
            var (q, qLost) = ExactSum.Product(-u.Y, v.X);
            return ExactSum.Sign([pLost, qLost, p, q]);
        }

        var n = ExactSum.Whole([a.X, a.Y, b.X, b.Y, c.X, c.Y]);
        return (((n[2] - n[0]) * (n[5] - n[1])) - ((n[3] - n[1]) * (n[4] - n[0]))).Sign;
    }

    /// <summary>Whether three points lie on one line, exactly; so the triangle has no area.</summary>
    public static bool AreCollinear(Vec3 a, Vec3 b, Vec3 c) =>
        Orient2D(a.Plan, b.Plan, c.Plan) == 0
        && Orient2D(new(a.Y, a.Z), new(b.Y, b.Z), new(c.Y, c.Z)) == 0
        && Orient2D(new(a.Z, a.X), new(b.Z, b.X), new(c.Z, c.X)) == 0;

    /// <summary>The whole-number step of <see cref="Orient3D"/> alone; slow, for any finite coordinates.</summary>
    internal static int Whole(Vec3 a, Vec3 b, Vec3 c, Vec3 d)
    {
        var n = ExactSum.Whole([a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z, d.X, d.Y, d.Z]);
        var (ux, uy, uz) = (n[3] - n[0], n[4] - n[1], n[5] - n[2]);
        var (vx, vy, vz) = (n[6] - n[0], n[7] - n[1], n[8] - n[2]);
        var (wx, wy, wz) = (n[9] - n[0], n[10] - n[1], n[11] - n[2]);
        return ((ux * ((vy * wz) - (vz * wy))) + (uy * ((vz * wx) - (vx * wz))) + (uz * ((vx * wy) - (vy * wx)))).Sign;
    }

    private static int Expanded(Vec3 u, Vec3 v, Vec3 w)
    {
        Span<double> terms = stackalloc double[24];
        var count = 0;
        Add(terms, ref count, u.X, v.Y, w.Z);
        Add(terms, ref count, -u.X, v.Z, w.Y);
        Add(terms, ref count, u.Y, v.Z, w.X);
        Add(terms, ref count, -u.Y, v.X, w.Z);
        Add(terms, ref count, u.Z, v.X, w.Y);
        Add(terms, ref count, -u.Z, v.Y, w.X);
        return ExactSum.Sign(terms[..count]);
    }

    private static void Add(Span<double> terms, ref int count, double a, double b, double c)
    {
        var (p, lost) = ExactSum.Product(a, b);
        (terms[count + 1], terms[count]) = ExactSum.Product(p, c);
        count += 2;
        if (lost == 0) return;
        (terms[count + 1], terms[count]) = ExactSum.Product(lost, c);
        count += 2;
    }

    private static double Span(Vec3 v) => Math.Max(Math.Max(Math.Abs(v.X), Math.Abs(v.Y)), Math.Abs(v.Z));

    private static bool IsExact(Vec3 a, Vec3 b) =>
        ExactSum.DifferenceIsExact(b.X, a.X) && ExactSum.DifferenceIsExact(b.Y, a.Y) && ExactSum.DifferenceIsExact(b.Z, a.Z);

    private static bool IsTame(Vec3 v) => IsTame(v.X) && IsTame(v.Y) && IsTame(v.Z);

    private static bool IsTame(double x) => x == 0 || (Math.Abs(x) > Smallest && Math.Abs(x) < Largest);
}
