using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A planar piece of a drafted terrain: either a triangle of a plateau, or a ramp that falls from an edge (or from a
/// corner, when both ends are one) in the direction <c>Downhill</c>. A ramp holds between two rays: from <c>A</c> along <c>StartLimit</c>
/// and from <c>B</c> along <c>EndLimit</c>, seen with the downhill side to the right of A→B. The limits are as long as it takes to get one
/// millimetre downhill.
/// </summary>
internal readonly record struct TerrainPiece : IEnvelopePrimitive
{
    /// <summary>The triangle; of a ramp its edge, with the profile that bounds how far it reaches.</summary>
    private readonly Primitive body;
    private readonly bool isFace;
    private readonly HeightPlane plane;

    private TerrainPiece(Primitive face, HeightPlane plane, double angle, int surface) =>
        (body, isFace, this.plane, Angle, Surface) = (face, true, plane, angle, surface);

    private TerrainPiece(Vec2 a, Vec2 b, double heightA, double heightB, double angle, Vec2 downhill, Vec2 startLimit, Vec2 endLimit, int surface)
    {
        (Angle, StartLimit, EndLimit, Surface) = (angle, startLimit, endLimit, surface);
        var gradient = -1 / Math.Tan(angle) * downhill;
        plane = new(heightA - Vec2.Dot(gradient, a), gradient);
        // Towards a limit that leans away from downhill the ramp reaches farther than its angle says.
        body = Primitive.Edge(new(a.X, a.Y, heightA), new(b.X, b.Y, heightB), new(Math.Atan(Math.Tan(angle) * Math.Max(startLimit.Length, endLimit.Length)), 0));
    }

    public Vec2 A => body.A.Plan;

    public Vec2 B => body.B.Plan;

    public double HeightA => body.A.Z;

    public double HeightB => body.B.Z;

    public double Angle { get; }

    public Vec2 StartLimit { get; }

    public Vec2 EndLimit { get; }

    /// <summary>Number of the surface that the piece belongs to.</summary>
    public int Surface { get; }

    public Box3 Bounds => body.Bounds;

    public RoundedCone Reach => body.Profile;

    public bool IsRamp => !isFace;

    /// <summary>Whether it is a ramp that falls from a level edge or a corner.</summary>
    public bool IsLevelRamp => !isFace && HeightA == HeightB;

    /// <summary>Rise per plan length.</summary>
    public Vec2 Gradient => plane.Gradient;

    /// <summary>A triangle of a plateau of the given plane; its corners may lie off the plane by rounding.</summary>
    public static TerrainPiece Face(Vec3 a, Vec3 b, Vec3 c, HeightPlane plane, double angle, int surface) =>
        // It counts only above itself; a narrow profile says so also where rounding makes a triangle steeper than its plane.
        new(Primitive.Face(a, b, c, new(plane.IsLevel ? angle : angle / 16, 0)), plane, angle, surface);

    public static TerrainPiece Ramp(
        Vec2 a, Vec2 b, double heightA, double heightB, double angle, Vec2 downhill, Vec2 startLimit, Vec2 endLimit, int surface) =>
        new(a, b, heightA, heightB, angle, downhill, startLimit, endLimit, surface);

    public bool TryEvaluate(Vec2 p, out double value, out Vec2 gradient)
    {
        gradient = plane.Gradient;
        if (isFace && !plane.IsLevel) return body.TryEvaluate(p, out value, out gradient);
        if (isFace)
        {
            value = plane.AtOrigin;
            return body.Covers(p);
        }

        value = HeightA + Vec2.Dot(gradient, p - A);
        return Vec2.Cross(B - A, p - A) <= 0 && Vec2.Cross(StartLimit, p - A) >= 0 && Vec2.Cross(EndLimit, p - B) <= 0;
    }

    public (double Least, double Most) Over(Vec2 low, Vec2 high)
    {
        // Of the border's sides one that has all corners on its outer side shuts the piece out; where all have all on the inner one, it holds all over.
        ReadOnlySpan<Vec2> corners = [low, new(high.X, low.Y), high, new(low.X, high.Y)];
        Span<(Vec2 From, Vec2 Along)> sides = stackalloc (Vec2, Vec2)[3];
        var (a, b, c) = (body.A.Plan, body.B.Plan, body.C.Plan);
        if (!isFace) (sides[0], sides[1], sides[2]) = ((b, a - b), (a, StartLimit), (b, -EndLimit));
        else if (Vec2.Cross(b - a, c - a) > 0) (sides[0], sides[1], sides[2]) = ((a, b - a), (b, c - b), (c, a - c));
        else (sides[0], sides[1], sides[2]) = ((a, c - a), (c, b - c), (b, a - b));
        var holds = true;
        foreach (var (from, along) in sides)
        {
            var inside = 0;
            foreach (var corner in corners) inside += Vec2.Cross(along, corner - from) >= 0 ? 1 : 0;
            if (inside == 0) return (double.NegativeInfinity, double.NegativeInfinity);
            holds &= inside == corners.Length;
        }

        var box = Bounds;
        if (isFace && (low.X > box.High.X || high.X < box.Low.X || low.Y > box.High.Y || high.Y < box.Low.Y)) return (double.NegativeInfinity, double.NegativeInfinity);
        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        foreach (var corner in corners)
        {
            var height = Extended(corner, out _);
            (least, most) = (Math.Min(least, height), Math.Max(most, height));
        }

        return (holds ? least : double.NegativeInfinity, Math.Min(most, box.High.Z));
    }

    /// <summary>The plane of the piece over the whole plan.</summary>
    public double Extended(Vec2 p, out Vec2 gradient)
    {
        gradient = plane.Gradient;
        return isFace ? plane.At(p) : HeightA + Vec2.Dot(gradient, p - A);
    }

    /// <summary>The convex polygon over which the piece holds down to a height, turning left; fewer than three points where there is none.</summary>
    public Vec2[] Domain(double ground)
    {
        if (isFace) return Vec2.Cross(body.B.Plan - body.A.Plan, body.C.Plan - body.A.Plan) > 0
            ? [body.A.Plan, body.B.Plan, body.C.Plan] : [body.A.Plan, body.C.Plan, body.B.Plan];
        return [.. Above(ground, 0).Reverse()];
    }

    /// <summary>The rays that bound a ramp sideways, down to a height.</summary>
    public IEnumerable<(Vec2 From, Vec2 To)> Rays(double ground)
    {
        var (start, end) = Limits(ground, 0);
        if (HeightA > ground) yield return (A, start);
        if (HeightB > ground) yield return (B, end);
    }

    /// <summary>The corners of the part of a ramp above a height, put <paramref name="extra"/> mm farther downhill; fewer than three for none.</summary>
    public Vec2[] Above(double height, double extra)
    {
        var (runA, runB) = (Run(HeightA, height, extra), Run(HeightB, height, extra));
        var (a, b) = Limits(height, extra);
        if (A == B) return runA > 0 ? [A, b, a] : [];
        if (runA > 0 && runB > 0) return [A, B, b, a];
        if (runA <= 0 && runB <= 0) return [];
        var crossing = A + (runA / (runA - runB) * (B - A));
        return runA > 0 ? [A, crossing, a] : [crossing, B, b];
    }

    /// <summary>The line along which a ramp that rises above a height falls to it.</summary>
    public (Vec2 From, Vec2 To) Contour(double height)
    {
        var (runA, runB) = (Run(HeightA, height, 0), Run(HeightB, height, 0));
        var (a, b) = Limits(height, 0);
        if (runA > 0 && runB > 0) return (a, b);
        var crossing = A + (runA / (runA - runB) * (B - A));
        return runA > 0 ? (a, crossing) : (crossing, b);
    }

    /// <summary>How far downhill a ramp that begins at a height comes until it has fallen to another, plus <paramref name="extra"/> mm.</summary>
    public double Run(double from, double height, double extra) => ((from - height) * Math.Tan(Angle)) + extra;

    /// <summary>Where the limit rays have fallen to a height, plus <paramref name="extra"/> mm of run downhill.</summary>
    public (Vec2 Start, Vec2 End) Limits(double height, double extra) =>
        (A + (Run(HeightA, height, extra) * StartLimit), B + (Run(HeightB, height, extra) * EndLimit));
}
