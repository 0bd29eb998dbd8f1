using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>
/// The cubic with continuous curvature through given points, parametrised by chord length
/// (Piegl and Tiller 1997, The NURBS Book, section 9.2; de Boor 1978, A Practical Guide to Splines, chapter IV).
/// Ends: the tangents given, else without curvature; closed: smooth all round.
/// </summary>
internal static class FitPointSpline
{
    /// <summary>Derivatives by chord length at the points. Neighbours differ; a closed row does not repeat its first point.</summary>
    public static Vec3[] Slopes(IReadOnlyList<Vec3> p, bool closed, Vec3? startTangent, Vec3? endTangent)
    {
        var n = p.Count;
        var last = closed ? n : n - 1;
        var h = new double[last];
        var secant = new Vec3[last];
        for (var i = 0; i < last; i++)
        {
            var chord = p[(i + 1) % n] - p[i];
            h[i] = chord.Length;
            secant[i] = (1 / h[i]) * chord;
        }

        // Rows: low m[i-1] + mid m[i] + high m[i+1] = right, from equal second derivatives on both sides of a point.
        var (low, mid, high, right) = (new double[n], new double[n], new double[n], new Vec3[n]);
        for (var i = closed ? 0 : 1; i < (closed ? n : n - 1); i++)
        {
            var before = (i + last - 1) % last;
            low[i] = 1 / h[before];
            high[i] = 1 / h[i];
            mid[i] = 2 * (low[i] + high[i]);
            right[i] = 3 * ((low[i] * secant[before]) + (high[i] * secant[i]));
        }

        if (closed) return SolveCyclic(low, mid, high, right);
        (mid[0], high[0], right[0]) = startTangent is { Length: > 1e-12 } s ? (1, 0, (1 / s.Length) * s) : (2, 1, 3 * secant[0]);
        (mid[^1], low[^1], right[^1]) = endTangent is { Length: > 1e-12 } e ? (1, 0, (1 / e.Length) * e) : (2, 1, 3 * secant[^1]);
        return Solve(low, mid, high, right);
    }

    /// <summary>Point and derivative on one piece, t from 0 to its chord length.</summary>
    public static CurvePoint At(Vec2 p0, Vec2 m0, Vec2 p1, Vec2 m1, double chord, double t)
    {
        var s = t / chord;
        // Cubic Hermite form, written in powers of s.
        var c2 = (3 * (p1 - p0)) - (chord * ((2 * m0) + m1));
        var c3 = (2 * (p0 - p1)) + (chord * (m0 + m1));
        var at = p0 + (s * ((chord * m0) + (s * (c2 + (s * c3)))));
        return new(at, m0 + ((s / chord) * ((2 * c2) + (3 * s * c3))));
    }

    private static Vec3[] Solve(double[] low, double[] mid, double[] high, Vec3[] right)
    {
        var n = mid.Length;
        var (m, x) = ((double[])mid.Clone(), (Vec3[])right.Clone());
        for (var i = 1; i < n; i++)
        {
            var f = low[i] / m[i - 1];
            m[i] -= f * high[i - 1];
            x[i] -= f * x[i - 1];
        }

        x[n - 1] = (1 / m[n - 1]) * x[n - 1];
        for (var i = n - 2; i >= 0; i--) x[i] = (1 / m[i]) * (x[i] - (high[i] * x[i + 1]));
        return x;
    }

    // Sherman-Morrison: the two corner entries as a rank-one change of a tridiagonal system.
    private static Vec3[] SolveCyclic(double[] low, double[] mid, double[] high, Vec3[] right)
    {
        var n = mid.Length;
        var gamma = -mid[0];
        var changed = (double[])mid.Clone();
        changed[0] -= gamma;
        changed[^1] -= high[^1] * low[0] / gamma;
        var x = Solve(low, changed, high, right);
        var u = new Vec3[n];
        u[0] = new(gamma, 0, 0);
        u[^1] = new(high[^1], 0, 0);
        var z = Solve(low, changed, high, u);
        var f = (1 / (1 + z[0].X + (low[0] * z[^1].X / gamma))) * (x[0] + ((low[0] / gamma) * x[^1]));
        for (var i = 0; i < n; i++) x[i] -= z[i].X * f;
        return x;
    }
}
