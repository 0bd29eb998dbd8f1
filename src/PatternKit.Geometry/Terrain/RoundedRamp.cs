using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>A ramp or a face of a terrain; a ramp with a radius begins below its edge, as an arc.</summary>
internal readonly record struct RoundedRamp(TerrainPiece Piece, TangentArc Arc) : IEnvelopePrimitive
{
    /// <summary>Run of the ramp for each millimetre of its fall.</summary>
    private readonly double run = Math.Tan(Piece.Angle);

    /// <summary>Plan distance from the ball's centre at which the arc leaves the level.</summary>
    private readonly double start = Arc.Struck * Math.Sin(Arc.From);

    /// <summary>Plan distance from the ball's centre at which the arc meets the wall.</summary>
    private readonly double end = Arc.Struck * Math.Sin(Arc.From + Arc.Turn);

    public TerrainPiece Piece { get; } = Piece;

    public TangentArc Arc { get; } = Arc;

    public Box3 Bounds => Piece.Bounds;

    public RoundedCone Reach => Piece.Reach;

    public bool IsRound => Arc.Radius > 0;

    /// <summary>Whether the ramp's plane, where it has this height, lies outside the arc.</summary>
    public bool IsCutOff(double height) => IsRound && Distance(height) < end;

    public bool TryEvaluate(Vec2 p, out double value, out Vec2 gradient)
    {
        if (!Piece.TryEvaluate(p, out value, out gradient)) return false;
        if (IsCutOff(value)) value = OnArc(Distance(value), out gradient);
        return true;
    }

    public (double Least, double Most) Over(Vec2 low, Vec2 high)
    {
        var (least, most) = Piece.Over(low, high);
        // Where the arc begins, it may be anything up to the ramp.
        return (IsCutOff(most) ? double.NegativeInfinity : least, most);
    }

    /// <summary>What a fillet on the ramp becomes near the edge: as high as the arc is where the ramp would be as high as the fillet.</summary>
    public double Rounded(double filled, ref Vec2 gradient)
    {
        var rounded = OnArc(Distance(filled), out var own);
        gradient = own.Length * run * gradient;
        return rounded;
    }

    /// <summary>The arc along the whole line of its edge, with the level above and the wall below.</summary>
    public double Extended(Vec2 p, out Vec2 gradient)
    {
        var plane = Piece.Extended(p, out gradient);
        var distance = Distance(plane);
        return distance >= end ? plane : OnArc(distance, out gradient);
    }

    /// <summary>By how much a level is lower at a distance inside its border, mm.</summary>
    public double Drop(double inside) => Piece.HeightA - OnArc(Arc.Reach - inside, out _);

    /// <summary>How fast it gets lower towards the border.</summary>
    public double Fall(double inside)
    {
        var t = Arc.Reach - inside;
        return t <= start ? 0 : t / Math.Sqrt((Arc.Struck * Arc.Struck) - (t * t));
    }

    /// <summary>Plan distance from the ball's centre, where the ramp's plane has a height.</summary>
    private double Distance(double plane) => Arc.Reach + ((Piece.HeightA - plane) * run);

    private double OnArc(double t, out Vec2 gradient)
    {
        gradient = default;
        if (t <= start) return Piece.HeightA;
        var up = Math.Sqrt((Arc.Struck * Arc.Struck) - (t * t));
        gradient = t / up * run * Piece.Gradient;
        return Piece.HeightA - Arc.Radius + up;
    }
}
