using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Meshes;

/// <summary>Faces of a mesh that a job gives a name: facets with all corners in a box, or in a plane, as the part lies.</summary>
/// <param name="Name">The name, by which stock is put on them.</param>
/// <param name="Box">The box; null for a plane.</param>
/// <param name="At_mm">A point of the plane.</param>
/// <param name="Facing">Of length one: only facets that look this way within 45°, in a plane within 5°; null where all do.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
public sealed record FaceRegion(string Name, Box3? Box, Vec3 At_mm, Vec3? Facing, string Where)
{
    /// <summary>What looks along a direction rather than to a side of it.</summary>
    internal static readonly double Along = Math.Cos(Math.PI / 4);

    private static readonly double InPlane = Math.Cos(5 * Math.PI / 180);

    /// <summary>A corner counts as in the box, or in the plane, so far beyond it, mm: what a scan or rounding scatters.</summary>
    private const double Slack_mm = 0.05;

    /// <summary>Whether a facet belongs to it.</summary>
    internal bool Holds(TriangleMesh mesh, Facet f)
    {
        var normal = mesh.AreaNormal(f);
        if (!(normal.Length > 0) || !Has(mesh.Vertices[f.A]) || !Has(mesh.Vertices[f.B]) || !Has(mesh.Vertices[f.C])) return false;
        return Facing is not { } way || Vec3.Dot(way, normal) >= (Box is null ? InPlane : Along) * normal.Length;
    }

    private bool Has(Vec3 p) => Box is { } box
        ? p.X >= box.Low.X - Slack_mm && p.X <= box.High.X + Slack_mm && p.Y >= box.Low.Y - Slack_mm && p.Y <= box.High.Y + Slack_mm && p.Z >= box.Low.Z - Slack_mm && p.Z <= box.High.Z + Slack_mm
        : Math.Abs(Vec3.Dot(Facing!.Value, p - At_mm)) <= Slack_mm;
}
