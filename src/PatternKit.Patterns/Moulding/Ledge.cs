using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// The step at the joint where the drafted walls of both halves start from one wall of the casting but come out unequally wide,
/// because one is higher than the other.
/// </summary>
/// <param name="Width_mm">Largest overhang.</param>
/// <param name="CopeIsWider">Which half overhangs there.</param>
public readonly record struct Ledge(double Width_mm, bool CopeIsWider)
{
    /// <summary>Measures the ledge between two halves.</summary>
    public static Ledge Of(HalfMould cope, HalfMould drag)
    {
        if (cope.IsEmpty || drag.IsEmpty) return default;
        var (a, b) = (Overhang(cope, drag), Overhang(drag, cope));
        return a >= b ? new(a, true) : new(b, false);
    }

    /// <summary>
    /// Farthest that a footprint reaches beyond another, where both halves have the same wall: the undrafted metal of the other is no
    /// farther away than that of the half itself.
    /// </summary>
    private static double Overhang(HalfMould wide, HalfMould narrow)
    {
        var (own, other, footprint) = (wide.UndraftedFootprint(), narrow.UndraftedFootprint(), narrow.Footprint);
        double widest = 0;
        foreach (var c in wide.Footprint.Geometry.Coordinates)
        {
            var overhang = Distance(footprint, c);
            if (overhang > widest && Distance(other, c) <= Distance(own, c) + 0.01) widest = overhang;
        }

        return widest;
    }

    private static double Distance(PlanRegion region, Coordinate c) =>
        DistanceOp.Distance(region.Geometry, region.Geometry.Factory.CreatePoint(c));
}
