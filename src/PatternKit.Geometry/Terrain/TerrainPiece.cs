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
    private readonly Primitive face;
    private readonly bool isFace;

    private TerrainPiece(Primitive face, int surface)
    {
        (this.face, isFace, Surface) = (face, true, surface);
        (Bounds, Reach, Height) = (face.Bounds, face.Profile, face.A.Z);
    }

    private TerrainPiece(Vec2 a, Vec2 b, double height, double angle, Vec2 downhill, Vec2 startLimit, Vec2 endLimit, int surface)
    {
        (A, B, Height, Angle, Downhill, StartLimit, EndLimit, Surface) = (a, b, height, angle, downhill, startLimit, endLimit, surface);
        Slope = 1 / Math.Tan(angle);
        Bounds = Box3.Empty.With(new(a.X, a.Y, height)).With(new(b.X, b.Y, height));
        // Towards a limit that leans away from downhill the ramp reaches farther than its angle says.
        Reach = new(Math.Atan(Math.Tan(angle) * Math.Max(startLimit.Length, endLimit.Length)), 0);
    }

    public Vec2 A { get; }

    public Vec2 B { get; }

    public double Height { get; }

    public double Angle { get; }

    public double Slope { get; }

    public Vec2 Downhill { get; }

    public Vec2 StartLimit { get; }

    public Vec2 EndLimit { get; }

    /// <summary>Number of the surface that the piece belongs to.</summary>
    public int Surface { get; }

    public Box3 Bounds { get; }

    public RoundedCone Reach { get; }

    public bool IsRamp => !isFace;

    public static TerrainPiece Face(Vec2 a, Vec2 b, Vec2 c, double height, double angle, int surface) =>
        new(Primitive.Face(new(a.X, a.Y, height), new(b.X, b.Y, height), new(c.X, c.Y, height), new(angle, 0)), surface);

    public static TerrainPiece Ramp(Vec2 a, Vec2 b, double height, double angle, Vec2 downhill, Vec2 startLimit, Vec2 endLimit, int surface) =>
        new(a, b, height, angle, downhill, startLimit, endLimit, surface);

    public bool TryEvaluate(Vec2 p, out double value, out Vec2 gradient)
    {
        if (isFace) return face.TryEvaluate(p, out value, out gradient);
        var fall = Vec2.Dot(Downhill, p - A);
        value = Height - (Slope * fall);
        gradient = -Slope * Downhill;
        return fall >= 0 && Vec2.Cross(StartLimit, p - A) >= 0 && Vec2.Cross(EndLimit, p - B) <= 0;
    }

    /// <summary>The plane of the piece over the whole plan.</summary>
    public double Extended(Vec2 p, out Vec2 gradient)
    {
        gradient = isFace ? default : -Slope * Downhill;
        return isFace ? Height : Height - (Slope * Vec2.Dot(Downhill, p - A));
    }

    /// <summary>The convex polygon over which the piece holds down to a height, turning left; fewer than three points where there is none.</summary>
    public Vec2[] Domain(double ground)
    {
        if (isFace) return Vec2.Cross(face.B.Plan - face.A.Plan, face.C.Plan - face.A.Plan) > 0
            ? [face.A.Plan, face.B.Plan, face.C.Plan] : [face.A.Plan, face.C.Plan, face.B.Plan];
        if (Height <= ground) return [];
        var (start, end) = LimitsAt(Height - ground, 0);
        return A == B ? [A, start, end] : [A, start, end, B];
    }

    /// <summary>The rays that bound a ramp sideways, down to a height.</summary>
    public IEnumerable<(Vec2 From, Vec2 To)> Rays(double ground)
    {
        var (start, end) = LimitsAt(Height - ground, 0);
        return [(A, start), (B, end)];
    }

    /// <summary>Where a limit ray has fallen by <paramref name="rise"/>, plus <paramref name="extra"/> mm of run downhill.</summary>
    public (Vec2 Start, Vec2 End) LimitsAt(double rise, double extra)
    {
        var run = (rise * Math.Tan(Angle)) + extra;
        return (A + (run * StartLimit), B + (run * EndLimit));
    }
}
