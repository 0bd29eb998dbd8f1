using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>Three corners of a facet, and a number for each that is equal for equal positions.</summary>
internal readonly record struct Corners(Vec3 A, Vec3 B, Vec3 C, int IdA, int IdB, int IdC)
{
    public int IndexOf(int id) => id == IdA ? 0 : id == IdB ? 1 : id == IdC ? 2 : -1;

    /// <summary>The same facet, turned so that the given corner comes first.</summary>
    public Corners From(int index) => index switch
    {
        0 => this,
        1 => new(B, C, A, IdB, IdC, IdA),
        _ => new(C, A, B, IdC, IdA, IdB),
    };
}

/// <summary>
/// Whether two facets meet other than in a corner or side that both have. Touching counts, be it in one point.
/// Only exact signs decide, so the answer is exact for the coordinates as they are. Facets must have area.
/// </summary>
internal static class FacetCrossing
{
    /// <summary>The test; false for two facets on the same three positions, which are duplicates.</summary>
    public static bool Cross(Corners s, Corners t)
    {
        var (a, b, c) = (s.IndexOf(t.IdA), s.IndexOf(t.IdB), s.IndexOf(t.IdC));
        var shared = (a >= 0 ? 1 : 0) + (b >= 0 ? 1 : 0) + (c >= 0 ? 1 : 0);
        switch (shared)
        {
            case 0:
                return Apart(s, t);
            case 1:
                return InCorner(s.From(a >= 0 ? a : b >= 0 ? b : c), t.From(a >= 0 ? 0 : b >= 0 ? 1 : 2));
            case 2:
                // Start t at the corner that s lacks, then s at the corner that t lacks.
                var own = t.From(a < 0 ? 0 : b < 0 ? 1 : 2);
                var other = s.From(3 - s.IndexOf(own.IdB) - s.IndexOf(own.IdC));
                return OnSide(other, own.A);
            default:
                return false;
        }
    }

    // Common side BC: beyond it they meet only when folded flat onto the same side.
    private static bool OnSide(Corners s, Vec3 apex)
    {
        if (ExactPredicates.Orient3D(s.B, s.C, s.A, apex) != 0) return false;
        var axis = FlatAxis(s);
        return Side(axis, s.B, s.C, s.A) == Side(axis, s.B, s.C, apex);
    }

    // Common corner A: both are cones from A, so a further common point can be pushed outward
    // until it lies on the far side of one of them.
    private static bool InCorner(Corners s, Corners t)
    {
        var (b, c) = (ExactPredicates.Orient3D(s.A, s.B, s.C, t.B), ExactPredicates.Orient3D(s.A, s.B, s.C, t.C));
        if (b * c > 0) return false;
        return Hits(s, t.B, t.C, b, c) || Hits(t, s.B, s.C);
    }

    private static bool Apart(Corners s, Corners t)
    {
        var (a, b, c) = (ExactPredicates.Orient3D(s.A, s.B, s.C, t.A), ExactPredicates.Orient3D(s.A, s.B, s.C, t.B), ExactPredicates.Orient3D(s.A, s.B, s.C, t.C));
        if (a == b && b == c && a != 0) return false;
        return Hits(s, t.A, t.B, a, b) || Hits(s, t.B, t.C, b, c) || Hits(s, t.C, t.A, c, a)
            || Hits(t, s.A, s.B) || Hits(t, s.B, s.C) || Hits(t, s.C, s.A);
    }

    private static bool Hits(Corners t, Vec3 p, Vec3 q) =>
        Hits(t, p, q, ExactPredicates.Orient3D(t.A, t.B, t.C, p), ExactPredicates.Orient3D(t.A, t.B, t.C, q));

    // Whether the segment pq meets the facet; the sides on which p and q lie are known.
    private static bool Hits(Corners t, Vec3 p, Vec3 q, int sideP, int sideQ)
    {
        if (sideP * sideQ > 0) return false;
        if (sideP == 0 && sideQ == 0) return HitsInPlane(t, p, q);
        var ab = ExactPredicates.Orient3D(p, q, t.A, t.B);
        var bc = ExactPredicates.Orient3D(p, q, t.B, t.C);
        if (ab * bc < 0) return false;
        var ca = ExactPredicates.Orient3D(p, q, t.C, t.A);
        return ab * ca >= 0 && bc * ca >= 0;
    }

    private static bool HitsInPlane(Corners t, Vec3 p, Vec3 q)
    {
        var axis = FlatAxis(t);
        return Inside(axis, t, p) || Inside(axis, t, q)
            || SegmentsMeet(axis, p, q, t.A, t.B) || SegmentsMeet(axis, p, q, t.B, t.C) || SegmentsMeet(axis, p, q, t.C, t.A);
    }

    private static bool Inside(int axis, Corners t, Vec3 p)
    {
        var (ab, bc, ca) = (Side(axis, t.A, t.B, p), Side(axis, t.B, t.C, p), Side(axis, t.C, t.A, p));
        return ab * bc >= 0 && bc * ca >= 0 && ab * ca >= 0;
    }

    private static bool SegmentsMeet(int axis, Vec3 p, Vec3 q, Vec3 a, Vec3 b)
    {
        var (pa, pb) = (Side(axis, p, q, a), Side(axis, p, q, b));
        var (ap, aq) = (Side(axis, a, b, p), Side(axis, a, b, q));
        if (pa == 0 && pb == 0)
        {
            // On one line: they meet when their boxes do.
            var (p2, q2, a2, b2) = (Flat(axis, p), Flat(axis, q), Flat(axis, a), Flat(axis, b));
            return Overlap(p2.X, q2.X, a2.X, b2.X) && Overlap(p2.Y, q2.Y, a2.Y, b2.Y);
        }

        return pa * pb <= 0 && ap * aq <= 0;
    }

    private static bool Overlap(double p, double q, double a, double b) =>
        Math.Max(Math.Min(p, q), Math.Min(a, b)) <= Math.Min(Math.Max(p, q), Math.Max(a, b));

    private static int Side(int axis, Vec3 a, Vec3 b, Vec3 c) =>
        ExactPredicates.Orient2D(Flat(axis, a), Flat(axis, b), Flat(axis, c));

    private static Vec2 Flat(int axis, Vec3 p) => axis switch
    {
        0 => new(p.Y, p.Z),
        1 => new(p.Z, p.X),
        _ => new(p.X, p.Y),
    };

    // An axis along which the facet does not project to a line.
    private static int FlatAxis(Corners t)
    {
        for (var axis = 2; axis > 0; axis--)
            if (Side(axis, t.A, t.B, t.C) != 0) return axis;
        return 0;
    }
}
