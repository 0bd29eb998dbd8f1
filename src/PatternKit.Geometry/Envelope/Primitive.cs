using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Envelope;

/// <summary>What a primitive of an envelope is.</summary>
public enum PrimitiveKind : byte
{
    /// <summary>A triangle.</summary>
    Face,

    /// <summary>A segment.</summary>
    Edge,

    /// <summary>A point.</summary>
    Vertex,
}

/// <summary>
/// A triangle, segment or point that a profile is slid over. An edge or vertex may have its own profile
/// (its own draft angle).
/// </summary>
/// <param name="Kind">Which of the points count.</param>
/// <param name="A">First point.</param>
/// <param name="B">Second point of an edge or face.</param>
/// <param name="C">Third point of a face.</param>
/// <param name="Profile">The profile.</param>
public readonly record struct Primitive(
    PrimitiveKind Kind, Vec3 A, Vec3 B, Vec3 C, RoundedCone Profile)
    : IEnvelopePrimitive
{
    /// <summary>A millionth of a micrometre: so near to a face is above it, so that no point falls between two by rounding.</summary>
    private const double CoverSlack = 1e-9;

    /// <inheritdoc/>
    public Box3 Bounds => Box3.Empty.With(A).With(B).With(C);

    /// <inheritdoc/>
    public RoundedCone Reach => Profile;

    /// <summary>A triangle.</summary>
    public static Primitive Face(Vec3 a, Vec3 b, Vec3 c, RoundedCone profile) =>
        new(PrimitiveKind.Face, a, b, c, profile);

    /// <summary>A segment.</summary>
    public static Primitive Edge(Vec3 a, Vec3 b, RoundedCone profile) =>
        new(PrimitiveKind.Edge, a, b, b, profile);

    /// <summary>A point.</summary>
    public static Primitive Vertex(Vec3 a, RoundedCone profile) =>
        new(PrimitiveKind.Vertex, a, a, a, profile);

    /// <summary>
    /// sup over q of the primitive of z_q + κ(|p − q|), where the best q lies in the open interior of the primitive
    /// (its own edges and end points are primitives of their own); value and gradient.
    /// </summary>
    /// <returns>False where another primitive is responsible.</returns>
    public bool TryEvaluate(Vec2 p, out double value, out Vec2 gradient) => Kind switch
    {
        PrimitiveKind.Face => TryFace(p, out value, out gradient),
        PrimitiveKind.Edge => TryEdge(p, out value, out gradient),
        _ => TryVertex(p, out value, out gradient),
    };

    /// <inheritdoc/>
    /// <remarks>
    /// The profile is concave, and so is its sup over a convex set: the least is at a corner. A sloped segment holds where both its ends let it, which is not
    /// always convex.
    /// </remarks>
    public (double Least, double Most) Over(Vec2 low, Vec2 high)
    {
        var box = Bounds;
        var most = box.High.Z + Profile.Height(box.PlanDistance(low, high));
        if (Kind == PrimitiveKind.Edge && A.Z != B.Z) return (double.NegativeInfinity, most);
        var least = double.PositiveInfinity;
        foreach (var corner in (ReadOnlySpan<Vec2>)[low, new(high.X, low.Y), high, new(low.X, high.Y)])
        {
            if (!TryEvaluate(corner, out var value, out _)) return (double.NegativeInfinity, most);
            least = Math.Min(least, value);
        }

        return (least, most);
    }

    /// <summary>The surface of a face or segment, taken without end, or of a point, over the whole plan; value and gradient.</summary>
    /// <remarks>A segment must be gentler than its profile.</remarks>
    public double Extended(Vec2 p, out Vec2 gradient)
    {
        if (Kind == PrimitiveKind.Face)
        {
            gradient = PlaneGradient();
            return A.Z + Vec2.Dot(gradient, p - A.Plan) + (Profile.Radius * Math.Sqrt(1 + gradient.LengthSquared));
        }

        return Kind == PrimitiveKind.Edge && EdgeOptimum(p, out var s, out var length, out var along)
            ? Emit(A.Plan + (s * along), A.Z + (s * (B.Z - A.Z) / length), p, out gradient)
            : Emit(A.Plan, A.Z, p, out gradient);
    }

    private bool TryFace(Vec2 p, out double value, out Vec2 gradient)
    {
        value = double.NegativeInfinity;
        gradient = default;
        // Without a radius a face counts straight above itself.
        if (Profile.Radius == 0 && !IsInBox(p)) return false;
        gradient = PlaneGradient();
        var slope2 = gradient.LengthSquared;
        if (!double.IsFinite(slope2) || slope2 > Profile.Slope * Profile.Slope) return false;
        var stretch = Math.Sqrt(1 + slope2);
        var foot = Profile.Radius > 0 ? p + (Profile.Radius / stretch * gradient) : p;
        if (!Covers(foot)) return false;
        // A steep face, and a foot on its very border: rounding must not carry the height beyond the face.
        var height = A.Z + Vec2.Dot(gradient, foot - A.Plan);
        value = Math.Clamp(height, Math.Min(A.Z, Math.Min(B.Z, C.Z)), Math.Max(A.Z, Math.Max(B.Z, C.Z))) + (Profile.Radius / stretch);
        return true;
    }

    private bool TryEdge(Vec2 p, out double value, out Vec2 gradient)
    {
        value = double.NegativeInfinity;
        gradient = default;
        if (!EdgeOptimum(p, out var s, out var length, out var along) || s < 0 || s > length) return false;
        value = Emit(A.Plan + (s * along), A.Z + (s * (B.Z - A.Z) / length), p, out gradient);
        return value > double.NegativeInfinity;
    }

    private bool TryVertex(Vec2 p, out double value, out Vec2 gradient)
    {
        value = Emit(A.Plan, A.Z, p, out gradient);
        return value > double.NegativeInfinity;
    }

    /// <summary>
    /// The best foot on the endless line of an edge, as plan length from A. With m the rise of the edge per plan
    /// length, d the distance of p: on the cone part u = m d / √(k² − m²), on the ball part u = m √((r² − d²)/(1 + m²)).
    /// False when the edge is as steep as the cone: then its upper end alone counts.
    /// </summary>
    private bool EdgeOptimum(Vec2 p, out double s, out double length, out Vec2 along)
    {
        var run = B.Plan - A.Plan;
        length = run.Length;
        along = length > 0 ? run / length : default;
        s = 0;
        if (length == 0) return false;
        var m = (B.Z - A.Z) / length;
        var k = Profile.Slope;
        if (Math.Abs(m) >= k) return false;
        var offset = p - A.Plan;
        var d = Math.Abs(Vec2.Cross(along, offset));
        s = Vec2.Dot(along, offset);
        if (m == 0) return true;
        var root = double.IsInfinity(k) ? double.PositiveInfinity : Math.Sqrt((k * k) - (m * m));
        var onCone = !double.IsInfinity(k) && k * d / root >= Profile.BallReach;
        if (onCone) s += m * d / root;
        else if (d <= Profile.Radius) s += m * Math.Sqrt(((Profile.Radius * Profile.Radius) - (d * d)) / (1 + (m * m)));
        return true;
    }

    private double Emit(Vec2 q, double z, Vec2 p, out Vec2 gradient)
    {
        var arm = p - q;
        var d = arm.Length;
        var height = Profile.Height(d);
        // At the very rim of a ball the slope is infinite, and infinity times no distance would be no number.
        gradient = d > 0 && height > double.NegativeInfinity ? Math.Max(Profile.Derivative(d), double.MinValue) * (arm / d) : default;
        return z + height;
    }

    private Vec2 PlaneGradient()
    {
        var n = Vec3.Cross(B - A, C - A);
        return new(-n.X / n.Z, -n.Y / n.Z);
    }

    /// <summary>Whether a point of the plan lies on a face, but for rounding.</summary>
    internal bool Covers(Vec2 p)
    {
        if (!IsInBox(p)) return false;
        var turn = Math.Sign(Vec2.Cross(B.Plan - A.Plan, C.Plan - A.Plan));
        return Beside(A.Plan, B.Plan) && Beside(B.Plan, C.Plan) && Beside(C.Plan, A.Plan);

        bool Beside(Vec2 a, Vec2 b) => turn * Vec2.Cross(b - a, p - a) is var side && (side >= 0 || side >= -CoverSlack * (b - a).Length);
    }

    private bool IsInBox(Vec2 p) =>
        p.X >= Math.Min(A.X, Math.Min(B.X, C.X)) - CoverSlack && p.X <= Math.Max(A.X, Math.Max(B.X, C.X)) + CoverSlack
        && p.Y >= Math.Min(A.Y, Math.Min(B.Y, C.Y)) - CoverSlack && p.Y <= Math.Max(A.Y, Math.Max(B.Y, C.Y)) + CoverSlack;
}
