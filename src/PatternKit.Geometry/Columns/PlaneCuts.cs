using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.OverlayNG;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>Where two planes cross over a piece of plan.</summary>
internal static class PlaneCuts
{
    /// <summary>The lines of the crossing inside the region.</summary>
    internal static IEnumerable<(Vec2 From, Vec2 To)> Of(PlanRegion region, HeightPlane plane, HeightPlane other)
    {
        var normal = plane.Gradient - other.Gradient;
        if (normal.LengthSquared == 0) yield break;
        var box = region.Geometry.EnvelopeInternal;
        var centre = new Vec2(box.Centre.X, box.Centre.Y);
        var foot = centre - ((plane.At(centre) - other.At(centre)) / normal.LengthSquared * normal);
        var reach = box.Width + box.Height;
        var along = reach * normal.Normalized().Left;
        var (a, b) = (foot - along, foot + along);
        var line = region.Geometry.Factory.CreateLineString([new(a.X, a.Y), new(b.X, b.Y)]);
        var inside = OverlayNGRobust.Overlay(region.Geometry, line, NetTopologySuite.Operation.Overlay.SpatialFunction.Intersection);
        for (var i = 0; i < inside.NumGeometries; i++)
            if (inside.GetGeometryN(i) is LineString { IsEmpty: false } cut)
                yield return (new(cut.StartPoint.X, cut.StartPoint.Y), new(cut.EndPoint.X, cut.EndPoint.Y));
    }
}
