namespace PatternKit.Geometry.Triangulation;

/// <summary>
/// Signs of areas and circles for points with whole-number coordinates below 2²⁶: never wrong.
/// A double-precision estimate decides when it is clear of its own rounding error, 128-bit whole numbers otherwise.
/// </summary>
public static class LatticePredicates
{
    /// <summary>Twice the signed area of a triangle; positive when a, b, c turn left. Exact.</summary>
    public static long Orient(LatticePoint a, LatticePoint b, LatticePoint c) =>
        ((long)(b.X - a.X) * (c.Y - a.Y)) - ((long)(b.Y - a.Y) * (c.X - a.X));

    /// <summary>Positive when d lies inside the circle through a, b, c, which turn left; zero on it. The sign is exact.</summary>
    public static int InCircle(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d)
    {
        long ax = a.X - d.X, ay = a.Y - d.Y, bx = b.X - d.X, by = b.Y - d.Y, cx = c.X - d.X, cy = c.Y - d.Y;
        long ab = (ax * by) - (ay * bx), bc = (bx * cy) - (by * cx), ca = (cx * ay) - (cy * ax);
        long a2 = (ax * ax) + (ay * ay), b2 = (bx * bx) + (by * by), c2 = (cx * cx) + (cy * cy);
        // Each factor is below 2⁵⁶ and rounds once on the way to double, so the sum is good to a few units in 2⁻⁵³.
        double x = (double)a2 * bc, y = (double)b2 * ca, z = (double)c2 * ab;
        var sum = x + y + z;
        if (Math.Abs(sum) > 1e-15 * (Math.Abs(x) + Math.Abs(y) + Math.Abs(z))) return Math.Sign(sum);
        var exact = ((Int128)a2 * bc) + ((Int128)b2 * ca) + ((Int128)c2 * ab);
        return Int128.Sign(exact);
    }
}

/// <summary>A point of the plan in lattice steps.</summary>
public readonly record struct LatticePoint(int X, int Y);
