using System.Numerics;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Joining;

/// <summary>
/// A facet with its plane, for exact questions: on which side of it a point lies, and how points of its plane turn, seen from the side that it faces. Doubles answer where their
/// error cannot matter; else whole numbers do.
/// </summary>
internal sealed class ExactFacet
{
    // Well above what rounding of coordinates and of the few operations can add up to.
    private const double Doubt = 1e-14;

    private readonly BigInteger nx, ny, nz, d;
    private readonly Vec3 near;
    private readonly double nearD;
    private readonly int drop;
    private readonly bool swap;

    /// <summary>Takes the corners, which are not on one line.</summary>
    public ExactFacet(ExactPoint a, ExactPoint b, ExactPoint c)
    {
        Corners = [a, b, c];
        var (ux, uy, uz) = (b.X - a.X, b.Y - a.Y, b.Z - a.Z);
        var (vx, vy, vz) = (c.X - a.X, c.Y - a.Y, c.Z - a.Z);
        (nx, ny, nz) = ((uy * vz) - (uz * vy), (uz * vx) - (ux * vz), (ux * vy) - (uy * vx));
        d = (nx * a.X) + (ny * a.Y) + (nz * a.Z);
        (near, nearD) = (new((double)nx, (double)ny, (double)nz), (double)d);
        // Whole numbers, so that all facets of a plane choose alike.
        var (x, y, z) = (BigInteger.Abs(nx), BigInteger.Abs(ny), BigInteger.Abs(nz));
        drop = x >= y && x >= z ? 0 : y >= z ? 1 : 2;
        swap = (drop == 0 ? nx : drop == 1 ? ny : nz).Sign < 0;
    }

    /// <summary>Its corners, points of the grid.</summary>
    public ExactPoint[] Corners { get; }

    /// <summary>Positive before the facet, negative behind it, zero on its plane; linear in homogeneous coordinates.</summary>
    public BigInteger Above(ExactPoint p) => (nx * p.X) + (ny * p.Y) + (nz * p.Z) - (d * p.W);

    /// <summary>Sign of <see cref="Above"/>.</summary>
    public int Side(ExactPoint p)
    {
        var (x, y, z) = (near.X * p.Near.X, near.Y * p.Near.Y, near.Z * p.Near.Z);
        var sum = x + y + z - nearD;
        return Math.Abs(sum) > Doubt * (Math.Abs(x) + Math.Abs(y) + Math.Abs(z) + Math.Abs(nearD)) ? Math.Sign(sum) : Above(p).Sign;
    }

    /// <summary>How a, b, c turn, points of the plane: positive to the left; linear in the homogeneous coordinates of each.</summary>
    public BigInteger Turning(ExactPoint a, ExactPoint b, ExactPoint c)
    {
        var ((au, av), (bu, bv), (cu, cv)) = (Flat(a), Flat(b), Flat(c));
        return (au * ((bv * c.W) - (cv * b.W))) - (av * ((bu * c.W) - (cu * b.W))) + (a.W * ((bu * cv) - (cu * bv)));
    }

    /// <summary>Sign of <see cref="Turning"/>.</summary>
    public int Turn(ExactPoint a, ExactPoint b, ExactPoint c)
    {
        var (p, q, r) = (Flat(a.Near), Flat(b.Near), Flat(c.Near));
        var (u, v) = (q - p, r - p);
        var (left, right) = (u.X * v.Y, u.Y * v.X);
        var far = Math.Max(Math.Abs(p.X), Math.Abs(p.Y)) + Math.Max(Math.Abs(q.X), Math.Abs(q.Y)) + Math.Max(Math.Abs(r.X), Math.Abs(r.Y));
        var doubt = Doubt * ((far * (Math.Abs(u.X) + Math.Abs(u.Y) + Math.Abs(v.X) + Math.Abs(v.Y))) + Math.Abs(left) + Math.Abs(right));
        return Math.Abs(left - right) > doubt ? Math.Sign(left - right) : Turning(a, b, c).Sign;
    }

    /// <summary>Whether a point of its plane is in the facet or on its border.</summary>
    public bool Holds(ExactPoint p) => Turn(Corners[0], Corners[1], p) >= 0 && Turn(Corners[1], Corners[2], p) >= 0 && Turn(Corners[2], Corners[0], p) >= 0;

    /// <summary>Where two stretches of its plane pass each other, ends not counted; null where they do not.</summary>
    public ExactPoint? Passing(ExactPoint a, ExactPoint b, ExactPoint c, ExactPoint e)
    {
        if (Turn(a, b, c) * Turn(a, b, e) >= 0 || Turn(c, e, a) * Turn(c, e, b) >= 0) return null;
        return ExactPoint.On(a, Turning(c, e, b), b, -Turning(c, e, a));
    }

    /// <summary>Whether a point of its plane lies on a stretch between its ends.</summary>
    public bool IsBetween(ExactPoint a, ExactPoint b, ExactPoint p) =>
        Turn(a, b, p) == 0 && ExactPoint.Compare(a, p) * ExactPoint.Compare(p, b) > 0;

    /// <summary>Positive where a point of the plane lies in the circle through three others that turn left, negative outside, zero on it; all seen along an axis, the same for all facets of a plane.</summary>
    public int InCircle(ExactPoint a, ExactPoint b, ExactPoint c, ExactPoint p)
    {
        var o = Flat(p.Near);
        var (ua, ub, uc) = (Flat(a.Near) - o, Flat(b.Near) - o, Flat(c.Near) - o);
        var (la, lb, lc) = (Vec2.Dot(ua, ua), Vec2.Dot(ub, ub), Vec2.Dot(uc, uc));
        var det = (la * Vec2.Cross(ub, uc)) + (lb * Vec2.Cross(uc, ua)) + (lc * Vec2.Cross(ua, ub));
        var (size, far) = (Math.Sqrt(Math.Max(la, Math.Max(lb, lc))), Math.Abs(o.X) + Math.Abs(o.Y));
        if (Math.Abs(det) > 100 * Doubt * size * size * size * (size + far)) return Math.Sign(det);
        var (ra, rb, rc, rp) = (Lifted(a), Lifted(b), Lifted(c), Lifted(p));
        return (Minor(ra, rb, rc, 0) * rp[0] - (Minor(ra, rb, rc, 1) * rp[1]) + (Minor(ra, rb, rc, 2) * rp[2]) - (Minor(ra, rb, rc, 3) * rp[3])).Sign;

        BigInteger[] Lifted(ExactPoint q)
        {
            var (u, v) = Flat(q);
            return [u * q.W, v * q.W, (u * u) + (v * v), q.W * q.W];
        }

        // Rows of three points without a column.
        static BigInteger Minor(BigInteger[] r, BigInteger[] s, BigInteger[] t, int without)
        {
            var (i, j, k) = (without > 0 ? 0 : 1, without > 1 ? 1 : 2, without > 2 ? 2 : 3);
            return (r[i] * ((s[j] * t[k]) - (s[k] * t[j]))) - (r[j] * ((s[i] * t[k]) - (s[k] * t[i]))) + (r[k] * ((s[i] * t[j]) - (s[j] * t[i])));
        }
    }

    private (BigInteger U, BigInteger V) Flat(ExactPoint p)
    {
        var (u, v) = drop switch { 0 => (p.Y, p.Z), 1 => (p.Z, p.X), _ => (p.X, p.Y) };
        return swap ? (v, u) : (u, v);
    }

    private Vec2 Flat(Vec3 p)
    {
        var (u, v) = drop switch { 0 => (p.Y, p.Z), 1 => (p.Z, p.X), _ => (p.X, p.Y) };
        return swap ? new(v, u) : new(u, v);
    }
}
