using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.OverlayNG;
using NetTopologySuite.Operation.Polygonize;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Lettering;

/// <summary>
/// The region about which closed contours wind, overlaps and self-crossings allowed: the fill rule of TrueType outlines.
/// The contours cut the plan into faces; those with a winding number other than zero are joined.
/// </summary>
internal static class NonZeroWinding
{
    private static readonly GeometryFactory Factory = new();

    public static PlanRegion Region(IReadOnlyList<Vec2[]> contours)
    {
        if (contours.Count == 0) return PlanRegion.Empty;
        var lines = Factory.CreateMultiLineString([.. contours.Select(Closed)]);
        var polygonizer = new Polygonizer();
        polygonizer.Add(OverlayNGRobust.Union([lines]));
        var filled = polygonizer.GetPolygons().Where(face => Winding(contours, face.InteriorPoint.Coordinate) != 0).ToArray();
        return PlanRegion.From(OverlayNGRobust.Union(Factory.BuildGeometry(filled)));
    }

    private static LineString Closed(Vec2[] contour) =>
        Factory.CreateLineString([.. contour.Append(contour[0]).Select(p => new Coordinate(p.X, p.Y))]);

    // Signed crossings of the ray to the right.
    private static int Winding(IReadOnlyList<Vec2[]> contours, Coordinate at)
    {
        var p = new Vec2(at.X, at.Y);
        var winding = 0;
        foreach (var contour in contours)
            for (var i = 0; i < contour.Length; i++)
            {
                var (a, b) = (contour[i], contour[(i + 1) % contour.Length]);
                if (a.Y <= p.Y == b.Y <= p.Y) continue;
                var left = Vec2.Cross(b - a, p - a);
                if (a.Y <= p.Y && left > 0) winding++;
                if (a.Y > p.Y && left < 0) winding--;
            }

        return winding;
    }
}
