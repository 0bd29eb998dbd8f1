using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// Where the joint face of a piece of a half can take a pocket: the body is solid from the joint up over all of the pocket and the land around it,
/// which its level sections tell exactly, since both of its faces are terrains.
/// </summary>
/// <param name="mould">The half.</param>
/// <param name="piece">The piece's part of its footprint.</param>
/// <param name="taken">What is sunk into the face already.</param>
/// <param name="land_mm">Kept free between pockets, and from a pocket to where the body ends.</param>
internal sealed class FirmGround(HalfMould mould, PlanRegion piece, PlanRegion taken, double land_mm)
{
    private const double Chord_mm = 0.02;

    /// <summary>Places are put on tenths of a millimetre; that moves them by less than this, chords included.</summary>
    private const double Slack_mm = 0.1;

    private readonly Dictionary<double, PlanRegion> known = [];
    private readonly Dictionary<(double Diameter_mm, double Thickness_mm), PlanRegion> knownForDiscs = [];

    /// <summary>Where the body stands on the joint and is at least so thick.</summary>
    public PlanRegion Over(double thickness_mm)
    {
        if (known.TryGetValue(thickness_mm, out var region)) return region;
        return known[thickness_mm] = mould.AtLeast(thickness_mm).Intersection(piece);
    }

    /// <summary>Where the middle of a round pocket may be.</summary>
    public PlanRegion ForDisc(double diameter_mm, double thickness_mm)
    {
        if (knownForDiscs.TryGetValue((diameter_mm, thickness_mm), out var region)) return region;
        var reach = Reach(diameter_mm);
        var inside = Over(thickness_mm).Offset(-reach, Chord_mm);
        return knownForDiscs[(diameter_mm, thickness_mm)] = inside.IsEmpty || taken.IsEmpty ? inside : inside.Difference(taken.Offset(reach, Chord_mm));
    }

    /// <summary>The place nearest to a wanted one, on tenths of a millimetre, where the middle of a round pocket may be; null where it may be nowhere.</summary>
    public Vec2? NearestForDisc(double diameter_mm, double thickness_mm, Vec2 wanted)
    {
        // Most find room where they are wanted, and then all other places need not be known.
        var reach = Reach(diameter_mm);
        return Over(thickness_mm).ContainsDisc(wanted, reach) && (taken.IsEmpty || taken.Distance(wanted) >= reach) ? OnTenths(wanted) : Nearest(ForDisc(diameter_mm, thickness_mm), wanted);
    }

    private double Reach(double diameter_mm) => (diameter_mm / 2) + land_mm + Slack_mm;

    /// <summary>Whether a pocket fits with its land around it.</summary>
    public bool Takes(PlanRegion pocket, double thickness_mm)
    {
        var withLand = pocket.Offset(land_mm, Chord_mm);
        return Over(thickness_mm).Covers(withLand) && taken.Intersection(withLand).IsEmpty;
    }

    /// <summary>The place of a region that is nearest to a point, on tenths of a millimetre; null where the region is empty.</summary>
    public static Vec2? Nearest(PlanRegion allowed, Vec2 to)
    {
        if (allowed.IsEmpty) return null;
        var at = DistanceOp.NearestPoints(allowed.Geometry, allowed.Geometry.Factory.CreatePoint(new NetTopologySuite.Geometries.Coordinate(to.X, to.Y)))[0];
        return OnTenths(new(at.X, at.Y));
    }

    /// <summary>Adding zero turns a negative zero into zero.</summary>
    private static Vec2 OnTenths(Vec2 p) => new((Math.Round(p.X * 10) / 10) + 0.0, (Math.Round(p.Y * 10) / 10) + 0.0);

    /// <summary>The thickest body, up to a limit, over which a round pocket has its land; by bisection to a fiftieth of the limit.</summary>
    public double ThickestFor(double diameter_mm, double limit_mm)
    {
        double low = 0, high = limit_mm;
        for (var i = 0; i < 6; i++)
        {
            var middle = (low + high) / 2;
            if (ForDisc(diameter_mm, middle).IsEmpty) high = middle;
            else low = middle;
        }

        return low;
    }
}
