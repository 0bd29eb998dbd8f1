using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>Where a flat joint meets the skin of a body.</summary>
internal static class JointLine
{
    /// <summary>Its pieces, facet by facet; where a face lies in the joint, the edges around it.</summary>
    /// <param name="mesh">The body.</param>
    /// <param name="z">Height of the joint.</param>
    public static IEnumerable<(Vec3 From, Vec3 To)> Of(TriangleMesh mesh, double z)
    {
        var slack = 1e-6 * mesh.Bounds().Size.Length;
        foreach (var f in mesh.Facets)
        {
            Vec3[] corners = [mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]];
            var over = corners.Select(c => Math.Abs(c.Z - z) <= slack ? 0 : c.Z - z).ToArray();
            if (over.All(h => h == 0) || over.All(h => h > 0) || over.All(h => h < 0)) continue;
            var points = new List<Vec3>();
            for (var i = 0; i < 3; i++)
            {
                var j = (i + 1) % 3;
                if (over[i] == 0) points.Add(corners[i]);
                else if (over[i] * over[j] < 0) points.Add(corners[i] + (over[i] / (over[i] - over[j]) * (corners[j] - corners[i])));
            }

            if (points.Count == 2) yield return (points[0], points[1]);
        }
    }
}
