using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>By how much a level is lowered along one edge of it.</summary>
internal readonly record struct RimDrop : IEnvelopePrimitive
{
    private readonly RoundedRamp ramp;

    public RimDrop(RoundedRamp ramp)
    {
        this.ramp = ramp;
        var (a, b, most) = (ramp.Piece.A, ramp.Piece.B, ramp.Drop(0));
        Bounds = Box3.Empty.With(new(a.X, a.Y, most)).With(new(b.X, b.Y, most));
        // The drop is hollow, from the most at the edge to none, and so below the cone over it.
        Reach = new(Math.Atan(ramp.Arc.Reach / most), 0);
    }

    public int Surface => ramp.Piece.Surface;

    public Box3 Bounds { get; }

    public RoundedCone Reach { get; }

    public (double Least, double Most) Over(Vec2 low, Vec2 high)
    {
        var inside = Bounds.PlanDistance(low, high);
        // It falls with the distance from the edge, and is least at a corner or beyond it.
        return (double.NegativeInfinity, inside < ramp.Arc.Reach ? ramp.Drop(inside) : double.NegativeInfinity);
    }

    public bool TryEvaluate(Vec2 p, out double value, out Vec2 gradient)
    {
        (value, gradient) = (0, default);
        var (a, b) = (ramp.Piece.A, ramp.Piece.B);
        var foot = Vec2.Nearest(p, a, b);
        var inside = Vec2.Distance(p, foot);
        if (inside >= ramp.Arc.Reach) return false;
        value = ramp.Drop(inside);
        // At the edge itself it falls as the wall does.
        var outward = inside > 1e-12 ? 1 / inside * (foot - p) : -Math.Tan(ramp.Piece.Angle) * ramp.Piece.Gradient;
        gradient = ramp.Fall(inside) * outward;
        return value > 0;
    }
}
