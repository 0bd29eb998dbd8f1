using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Plans;

/// <summary>Sections of the bodies of a kit, also of one that was forced and has an open body.</summary>
internal static class ClosedSection
{
    /// <summary>What stands in the place of a section that cannot be drawn.</summary>
    public static string Missing(KitBody body) => $"the {body.Name} half is not closed there, so its section is not drawn";

    /// <summary>The section in its place in the mould, or null where the body is not closed at the plane.</summary>
    public static ImmutableArray<ImmutableArray<Vec3>>? Of(KitBody body, Vec3 point, Vec3 normal) => Of(body.InMould, point, normal);

    /// <summary>The section of a mesh, or null where it is not closed at the plane.</summary>
    public static ImmutableArray<ImmutableArray<Vec3>>? Of(TriangleMesh mesh, Vec3 point, Vec3 normal)
    {
        try
        {
            return MeshSection.AtPlane(mesh, point, normal);
        }
        catch (ArgumentException)
        {
            return null;
        }
    }
}
