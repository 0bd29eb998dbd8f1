using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>Puts the body of a half, made with its draw upward, into its place in the mould and onto the printer's bed.</summary>
public static class PlacedHalves
{
    /// <summary>The body, or null where the half is empty.</summary>
    public static KitBody? Body(HalfMould mould, MouldHalf half, ImmutableArray<UprightPocket> pockets)
    {
        var mesh = mould.Body(pockets);
        if (mesh.Facets.IsEmpty) return null;
        var joint = mould.Joint_mm;
        // The drag was built as a mirror image in z: mirroring back, or in y for the print, turns the facets over again.
        var (inMould, printed, rows) = half == MouldHalf.Cope
            ? (mesh, mesh.Mapped(v => v with { Z = v.Z - joint }), Rows(1, 1, -joint))
            : (Mirrored(mesh, v => v with { Z = -v.Z }), Mirrored(mesh, v => new(v.X, -v.Y, v.Z - joint)), Rows(-1, -1, -joint));
        return new(half == MouldHalf.Cope ? "cope" : "drag", half, inMould, printed, rows, LeastDraft(printed));
    }

    /// <summary>
    /// Least angle from the vertical of the facets that sand touches, radians. Walls of pockets are the only upright facets, and the
    /// parting face and pocket ceilings are level, so neither can be the least.
    /// </summary>
    private static double LeastDraft(TriangleMesh mesh) =>
        mesh.Facets.Select(mesh.AreaNormal).Where(n => n.Z != 0).Min(n => Math.Atan2(Math.Abs(n.Z), n.Plan.Length));

    private static TriangleMesh Mirrored(TriangleMesh mesh, Func<Vec3, Vec3> map) =>
        new([.. mesh.Vertices.Select(map)], [.. mesh.Facets.Select(f => new Facet(f.A, f.C, f.B))]);

    private static ImmutableArray<ImmutableArray<double>> Rows(double y, double z, double shift) =>
        [[1, 0, 0, 0], [0, y, 0, 0], [0, 0, z, shift]];
}
