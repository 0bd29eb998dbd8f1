namespace PatternKit.Geometry.Mesh;

/// <summary>
/// The space between the upper side of a mesh and a level plane over it, exactly: over a facet the height is a plane, so that its mean is that of the corners.
/// Facets that look down or stand upright are not counted.
/// </summary>
public static class SpaceUnderLevel
{
    /// <summary>∫ (level − z) over the plan of the facets that look up, mm³; what stands over the level counts as negative.</summary>
    /// <param name="mesh">Facing outward.</param>
    /// <param name="level">Height of the plane, mm.</param>
    /// <param name="except">Facets that lie in the plane of this height are left out; none when left out itself.</param>
    public static double Of(TriangleMesh mesh, double level, double? except = null)
    {
        var sum = 0.0;
        foreach (var f in mesh.Facets)
        {
            var twice = mesh.AreaNormal(f).Z;
            if (twice <= 0) continue;
            var (a, b, c) = (mesh.Vertices[f.A].Z, mesh.Vertices[f.B].Z, mesh.Vertices[f.C].Z);
            if (except is { } plane && a == plane && b == plane && c == plane) continue;
            sum += twice / 2 * (level - ((a + b + c) / 3));
        }

        return sum;
    }
}
