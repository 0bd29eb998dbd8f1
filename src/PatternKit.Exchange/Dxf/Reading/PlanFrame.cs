using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>The object plane of an entity as it is seen in the plan: images of its axes and origin, and its height.</summary>
internal readonly record struct PlanFrame(Vec2 U, Vec2 V, Vec2 Origin, double Height)
{
    // Largest slope that counts as flat; it shortens a length by less than 1e-12 of it.
    private const double Flat = 1e-6;

    /// <summary>+1 as drawn, -1 seen from behind.</summary>
    public int Sense => Math.Sign(Vec2.Cross(U, V));

    /// <summary>Whether circles stay circles: axes equally long and square to each other.</summary>
    public bool KeepsCircles => IsRound(U, V);

    /// <summary>The frame at an elevation of the object plane; null and a reason when the plane does not lie in the plan.</summary>
    public static PlanFrame? Of(Affine3 map, double elevation, out string reason)
    {
        reason = "it is tilted out of the plan";
        if (!IsFlat(map.X) || !IsFlat(map.Y)) return null;
        var origin = map.Point(new(0, 0, elevation));
        var frame = new PlanFrame(map.X.Plan, map.Y.Plan, origin.Plan, origin.Z);
        if (frame.Sense != 0) return frame;
        reason = "its scale leaves nothing of it";
        return null;
    }

    public Vec2 Point(Vec2 p) => (p.X * U) + (p.Y * V) + Origin;

    /// <summary>Whether a vector lies flat.</summary>
    public static bool IsFlat(Vec3 v) => Math.Abs(v.Z) <= Flat * v.Length;

    /// <summary>Whether two conjugate radii are those of a circle.</summary>
    public static bool IsRound(Vec2 p, Vec2 q)
    {
        var size = p.LengthSquared + q.LengthSquared;
        return Math.Abs(p.LengthSquared - q.LengthSquared) <= 1e-9 * size && Math.Abs(Vec2.Dot(p, q)) <= 1e-9 * size;
    }
}

/// <summary>An ellipse of the plan by its centre and two conjugate radii: centre + cos t P + sin t Q.</summary>
internal readonly record struct Conic(Vec2 Centre, Vec2 P, Vec2 Q)
{
    /// <summary>An arc of a sweep beyond this is cut in two, since its chord would be too short to carry it.</summary>
    private const double LongSweep = 0.95 * 360;

    /// <summary>Angles this close to a full turn are one, degrees.</summary>
    public const double FullTurnSlack = 1e-6;

    public Vec2 At(double degrees)
    {
        var (s, c) = Degrees.SinCos(degrees);
        return Centre + (c * P) + (s * Q);
    }

    /// <summary>The vertices of the whole curve, closed.</summary>
    public IReadOnlyList<PlanVertex> Whole(double tolerance, Action<int> spend)
    {
        if (PlanFrame.IsRound(P, Q)) return [new(Centre + new Vec2(P.Length, 0), 1), new(Centre - new Vec2(P.Length, 0), 1)];
        var vertices = new List<PlanVertex>();
        Append(vertices, 0, 360, tolerance, spend);
        return vertices;
    }

    /// <summary>Appends the vertices of a part, without its end point.</summary>
    /// <param name="vertices">Takes the vertices.</param>
    /// <param name="start">Parameter where it starts, degrees.</param>
    /// <param name="sweep">Parameter it covers, degrees; negative runs backwards.</param>
    /// <param name="tolerance">Largest distance of a fitted arc from the ellipse.</param>
    /// <param name="spend">Told the number of vertices.</param>
    public void Append(List<PlanVertex> vertices, double start, double sweep, double tolerance, Action<int> spend)
    {
        if (PlanFrame.IsRound(P, Q))
        {
            var pieces = Math.Abs(sweep) > LongSweep ? 2 : 1;
            var bulge = Math.Tan(sweep / pieces * Math.PI / 720) * Math.Sign(Vec2.Cross(P, Q));
            spend(pieces);
            for (var i = 0; i < pieces; i++) vertices.Add(new(At(start + (sweep * i / pieces)), bulge));
            return;
        }

        // Quarter by quarter, so that a piece has no more than one vertex of the ellipse inside. Backwards, Q is turned
        // round, so that the parameter and with it the derivative always run forward.
        var forward = sweep < 0 ? new Conic(Centre, P, -Q) : this;
        var (from, length) = (sweep < 0 ? -start : start, Math.Abs(sweep));
        var quarters = Math.Max(1, (int)Math.Ceiling(length / 90));
        for (var i = 0; i < quarters; i++)
            ArcFit.Append(vertices, forward.PointAndDerivative, from + (length * i / quarters), from + (length * (i + 1) / quarters), tolerance, spend);
    }

    private CurvePoint PointAndDerivative(double degrees)
    {
        var (s, c) = Degrees.SinCos(degrees);
        return new(Centre + (c * P) + (s * Q), (c * Q) - (s * P));
    }
}
