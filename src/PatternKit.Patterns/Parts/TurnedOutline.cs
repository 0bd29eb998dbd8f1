using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parts;

/// <summary>Profiles of turned bodies as outlines: what is done to them is done to both sides of the axis, so that the axis is inside and stays where it is.</summary>
internal static class TurnedOutline
{
    /// <summary>A profile (x along the axis, y ≥ 0 the distance from it) on both sides of its axis.</summary>
    public static PlanRegion WithMirror(PlanRegion profile) =>
        profile.Union(PlanRegion.EvenOdd(profile.Rings().Select(r => PlanPath.Polygon([.. r.Select(v => v with { Y = -v.Y })])), 0));

    /// <summary>What of both sides is turned.</summary>
    public static PlanRegion OverAxis(PlanRegion both)
    {
        var box = both.Geometry.EnvelopeInternal;
        return both.IsEmpty ? both : both.Intersection(PlanRegion.Rectangle(new(box.MinX - 1, 0), new(box.MaxX + 1, box.MaxY + 1)));
    }

    /// <summary>A profile with its sides moved outward; inward when negative.</summary>
    public static PlanRegion Grown(PlanRegion profile, double by_mm) =>
        by_mm == 0 || profile.IsEmpty ? profile : OverAxis(FeatureOutline.Moved(WithMirror(profile), by_mm));
}
