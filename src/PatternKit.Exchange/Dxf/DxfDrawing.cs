using System.Collections.Immutable;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>One curve of a drawing, in drawing units, seen from above in world coordinates.</summary>
/// <param name="Layer">Layer that holds it; what a block draws on layer 0 belongs to the layer of the insert.</param>
/// <param name="Path">The curve; arcs are true arcs, an ellipse or spline is a chain of arcs within the tolerance of the reader.</param>
/// <param name="Line">Line of the file where its entity begins, from 1.</param>
public sealed record DxfCurve(string Layer, PlanPath Path, int Line);

/// <summary>The visible plan curves of a DXF drawing.</summary>
public sealed class DxfDrawing
{
    internal DxfDrawing(DxfUnit unit, ImmutableArray<DxfCurve> curves, ImmutableArray<string> layers)
    {
        Unit = unit;
        Curves = curves;
        Layers = layers;
    }

    /// <summary>What a drawing unit is; <see cref="DxfUnit.None"/> when the file does not say.</summary>
    public DxfUnit Unit { get; }

    /// <summary>Length of a drawing unit, mm; null when the file does not say.</summary>
    public double? MillimetresPerUnit => DxfUnits.MillimetresPer(Unit);

    /// <summary>All visible curves in the order of the file, inserted blocks in their place.</summary>
    public ImmutableArray<DxfCurve> Curves { get; }

    /// <summary>Layers that hold curves, in order of appearance. Names are compared without regard to case, as the format does.</summary>
    public ImmutableArray<string> Layers { get; }
}
