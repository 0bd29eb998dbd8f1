using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using static PatternKit.Patterns.Moulding.MouldHalves;

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
        var (upper, lower) = Both(half => Borders(half == MouldHalf.Cope ? cope : drag));
        var (a, b) = (Overhang(upper, lower), Overhang(lower, upper));
        return a.Width_mm >= b.Width_mm ? new(a.Width_mm, true, a.At_mm) : new(b.Width_mm, false, b.At_mm);
    }

    /// <summary>
    /// Farthest that a footprint reaches beyond another, where both halves have the same wall: the undrafted metal of the other is no
    /// farther away than that of the half itself.
    /// </summary>
    private static (double Width_mm, Vec2 At_mm) Overhang((PlanRegion Footprint, Distances Undrafted) wide, (PlanRegion Footprint, Distances Undrafted) narrow)
    {
        var beyond = new Distances(narrow.Footprint);
        (double Width_mm, Vec2 At_mm) widest = default;
        foreach (var c in wide.Footprint.Geometry.Coordinates)
        {
            var overhang = beyond.To(c);
            if (overhang > widest.Width_mm && narrow.Undrafted.To(c) <= wide.Undrafted.To(c) + 0.01) widest = (overhang, new(c.X, c.Y));
        }

        return widest;
    }

    private static (PlanRegion Footprint, Distances Undrafted) Borders(HalfMould mould) => (mould.Footprint, new(mould.UndraftedFootprint()));

    /// <summary>Distances from points to a region, zero inside; made for many of them.</summary>
    private sealed class Distances(PlanRegion region)
    {
        private readonly IndexedFacetDistance border = new(region.Geometry);

        public double To(Coordinate c) =>
            region.Contains(new(c.X, c.Y)) ? 0 : border.Distance(region.Geometry.Factory.CreatePoint(c));
    }
}
