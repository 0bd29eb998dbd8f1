// Stands in for the DXF reader until it lands: same names, same signatures. Delete this file then.
using System.Collections.Immutable;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

internal enum DxfUnit
{
    Unitless,
}

internal sealed record DxfCurve(string Layer, PlanPath Path, int Line);

internal sealed record DxfDrawing(DxfUnit Unit, double? MillimetresPerUnit, ImmutableArray<DxfCurve> Curves, ImmutableArray<string> Layers);

internal static class DxfReader
{
    public static ReadResult<DxfDrawing> Read(byte[] content, string sourceName) =>
        throw new InputException(sourceName, "", $"the DXF reader is not there yet ({content.Length} bytes).");
}

internal static class LoopChaining
{
    public static ReadResult<ImmutableArray<PlanPath>> Chain(IEnumerable<DxfCurve> curves, double gapTolerance, string sourceName) =>
        throw new InputException(sourceName, "", $"the DXF reader is not there yet ({curves.Count()} curves, {gapTolerance}).");
}
