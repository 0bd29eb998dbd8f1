using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Meshes;

/// <summary>The walls of a mesh that stand too upright for a draw.</summary>
/// <param name="Area_mm2">Area of facets with less draft than asked.</param>
/// <param name="Whole_mm2">Area of the skin.</param>
/// <param name="Least">Least draft of any of them, radians; that asked for where there is none.</param>
/// <param name="At_mm">The middle of the largest such facet.</param>
public sealed record UprightWalls(double Area_mm2, double Whole_mm2, double Least, Vec3? At_mm)
{
    /// <summary>A wall drawn with just the draft asked for may be off it so much by rounding, radians.</summary>
    private const double Slack = 1e-3;

    /// <summary>Sums up facets.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="up">Unit vector of the draw.</param>
    /// <param name="asked">Draft, radians.</param>
    public static UprightWalls Of(TriangleMesh mesh, Vec3 up, double asked)
    {
        double area = 0, whole = 0, least = asked, largest = 0;
        Vec3? at = null;
        foreach (var f in mesh.Facets)
        {
            var n = mesh.AreaNormal(f);
            var size = n.Length / 2;
            whole += size;
            if (size == 0) continue;
            var draft = Math.Asin(Math.Min(1, Math.Abs(Vec3.Dot(n, up)) / n.Length));
            if (draft >= asked - Slack) continue;
            area += size;
            least = Math.Min(least, draft);
            if (size <= largest) continue;
            (largest, at) = (size, (1 / 3.0) * (mesh.Vertices[f.A] + mesh.Vertices[f.B] + mesh.Vertices[f.C]));
        }

        return new(area, whole, least, at);
    }
}
