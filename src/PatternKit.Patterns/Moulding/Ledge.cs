using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// The step at the joint where the drafted walls of both halves start from one wall of the casting but come out unequally wide,
/// because one is higher than the other.
/// </summary>
/// <param name="Width_mm">Largest overhang.</param>
/// <param name="CopeIsWider">Which half overhangs there.</param>
/// <param name="At_mm">Where it does, in plan.</param>
public readonly record struct Ledge(double Width_mm, bool CopeIsWider, Vec2 At_mm)
{
    /// <summary>Measures the ledge between two halves.</summary>
    public static Ledge Of(HalfMould cope, HalfMould drag)
    {
        if (cope.IsEmpty || drag.IsEmpty) return default;
        var (a, b) = (Overhang(cope, drag), Overhang(drag, cope));
        return a.Width_mm >= b.Width_mm ? new(a.Width_mm, true, a.At_mm) : new(b.Width_mm, false, b.At_mm);
    }

    /// <summary>
    /// Farthest that a footprint reaches beyond another, where both halves have the same wall: the undrafted metal of the other is no
    /// farther away than that of the half itself.
    /// </summary>
    private static (double Width_mm, Vec2 At_mm) Overhang(HalfMould wide, HalfMould narrow)
    {
        var (own, other, footprint) = (wide.UndraftedFootprint(), narrow.UndraftedFootprint(), narrow.Footprint);
        (double Width_mm, Vec2 At_mm) widest = default;
        foreach (var c in wide.Footprint.Geometry.Coordinates)
        {
            var overhang = Distance(footprint, c);
            if (overhang > widest.Width_mm && Distance(other, c) <= Distance(own, c) + 0.01) widest = (overhang, new(c.X, c.Y));
        }

        return widest;
    }

    private static double Distance(PlanRegion region, Coordinate c) =>
        DistanceOp.Distance(region.Geometry, region.Geometry.Factory.CreatePoint(c));
}
