using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>One segment of an open curve, and where it comes from.</summary>
internal sealed record ChainEdge(PlanSegment Shape, string Layer, int Line)
{
    /// <summary>Nodes at start and end.</summary>
    public int[] Nodes { get; } = new int[2];

    public Vec2 End(int side) => side == 0 ? Shape.Start : Shape.End;

    /// <summary>Direction, radians, in which the edge leaves its end.</summary>
    public double Departure(int side)
    {
        var chord = Shape.End - Shape.Start;
        var along = Math.Atan2(chord.Y, chord.X);
        return side == 0 ? along - (Shape.Sweep / 2) : along + Math.PI + (Shape.Sweep / 2);
    }

    /// <summary>Curvature seen when leaving that end, positive to the left.</summary>
    public double Curvature(int side) =>
        Shape.IsArc ? (side == 0 ? 1 : -1) * Math.Sign(Shape.Bulge) / Shape.Radius : 0;

    /// <summary>The point halfway along.</summary>
    public Vec2 Middle
    {
        get
        {
            var half = 0.5 * (Shape.End - Shape.Start);
            return Shape.Start + half - (Shape.Bulge * half.Left);
        }
    }

    /// <summary>Cuts a path into edges; an arc so long that its chord is short is halved.</summary>
    public static IEnumerable<ChainEdge> Of(DxfCurve curve)
    {
        const double LongBulge = 10;
        for (var i = 0; i < curve.Path.SegmentCount; i++)
        {
            var edge = new ChainEdge(curve.Path.Segment(i), curve.Layer, curve.Line);
            if (Math.Abs(edge.Shape.Bulge) <= LongBulge)
            {
                yield return edge;
                continue;
            }

            var bulge = Math.Tan(Math.Atan(edge.Shape.Bulge) / 2);
            yield return new(new(edge.Shape.Start, edge.Middle, bulge), curve.Layer, curve.Line);
            yield return new(new(edge.Middle, edge.Shape.End, bulge), curve.Layer, curve.Line);
        }
    }
}
