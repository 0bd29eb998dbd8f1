using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Triangulation;

/// <summary>A polygon in space cut into triangles.</summary>
/// <param name="Facets">Corner numbers, running round as the polygon does; always two fewer than corners.</param>
/// <param name="IsClean">
/// Whether every triangle was an ear seen along the polygon's mean normal. Else the polygon crosses itself in that view, or has no
/// area in it, and the triangles may cross; they still have the polygon as their border.
/// </param>
public sealed record SpacePolygonTriangles(ImmutableArray<Facet> Facets, bool IsClean);

/// <summary>
/// Triangulates a closed polygon in space without adding a point, by cutting off ears (Meisters 1975) in the coordinate plane that the
/// polygon's mean normal is nearest to. Dropping a coordinate rounds nothing, and <see cref="ExactPredicates"/> decides, so a plane polygon that
/// does not cross itself, concave or with corners in mid-edge, is always cut into triangles with area. A seam walked there and
/// back, as files use it to reach a hole, does no harm. The ear with the shortest cut goes first. About n² in the worst case.
/// </summary>
public static class SpacePolygon
{
    /// <summary>Cuts the polygon into triangles.</summary>
    /// <param name="corners">At least three finite corners in order, the first not repeated at the end.</param>
    /// <exception cref="ArgumentException">Fewer than three corners.</exception>
    public static SpacePolygonTriangles Triangulate(ReadOnlySpan<Vec3> corners)
    {
        if (corners.Length < 3) throw new ArgumentException("A polygon has at least three corners.", nameof(corners));
        if (corners.Length == 3) return new([new(0, 1, 2)], true);
        return new EarCutter(corners).Cut();
    }

    /// <summary>The mean normal: its length is twice the area of the polygon's largest projection (Newell's sum over the sides).</summary>
    public static Vec3 MeanNormal(ReadOnlySpan<Vec3> corners)
    {
        var o = corners[0];
        var normal = default(Vec3);
        for (var i = 1; i + 1 < corners.Length; i++) normal += Vec3.Cross(corners[i] - o, corners[i + 1] - o);
        return normal;
    }
}
