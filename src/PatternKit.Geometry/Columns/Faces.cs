using NetTopologySuite.Algorithm;
using NetTopologySuite.Geometries;

namespace PatternKit.Geometry.Columns;

/// <summary>Which faces each border parts.</summary>
internal static class Faces
{
    /// <summary>
    /// The borders between faces that share their border vertices exactly, ascending; a side where no face lies is
    /// <see cref="Border.Outside"/>.
    /// </summary>
    internal static List<Border> Borders(IReadOnlyList<Polygon> faces)
    {
        var borders = new Dictionary<BorderEnds, Border>();
        for (var f = 0; f < faces.Count; f++)
            foreach (var (p, q) in Edges(faces[f]))
            {
                var key = Border.Key(p, q);
                var before = borders.GetValueOrDefault(key);
                var right = before is null ? Border.Outside : before.LeftFrom(q);
                borders[key] = Border.Between(p, q, f, right);
            }

        return [.. borders.OrderBy(b => b.Key).Select(b => b.Value)];
    }

    /// <summary>The edges of a polygon, walked with its inside to the left.</summary>
    internal static IEnumerable<(Coordinate From, Coordinate To)> Edges(Polygon polygon)
    {
        for (var r = -1; r < polygon.NumInteriorRings; r++)
        {
            var c = (r < 0 ? polygon.Shell : (LinearRing)polygon.GetInteriorRingN(r)).Coordinates;
            var forward = Orientation.IsCCW(c) == r < 0;
            for (var i = 1; i < c.Length; i++) yield return forward ? (c[i - 1], c[i]) : (c[i], c[i - 1]);
        }
    }
}
