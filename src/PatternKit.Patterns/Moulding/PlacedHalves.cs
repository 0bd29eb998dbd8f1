using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;

namespace PatternKit.Patterns.Moulding;

/// <summary>Puts the body of a half, made with its draw upward, into its place in the mould and onto the printer's bed.</summary>
public static class PlacedHalves
{
    /// <summary>The mesh has the outlines of pockets on its lattice.</summary>
    private const double OnWall_mm = 0.001;

    /// <summary>The body, or null where the half is empty.</summary>
    public static KitBody? Body(HalfMould mould, MouldHalf half, ImmutableArray<UprightPocket> pockets)
    {
        var mesh = mould.Body(pockets);
        return mesh.Facets.IsEmpty ? null : Place(half == MouldHalf.Cope ? "cope" : "drag", half, mesh, mould.IsCarved ? mesh.Bounds().Low.Z : mould.Joint_mm, pockets);
    }

    /// <summary>The pieces of a half that are printed one by one; null where it is whole.</summary>
    public static CutBody? Pieces(HalfMould mould, KitBody? whole, BedCutPlan? plan, ImmutableArray<UprightPocket> pockets) => whole is null || plan is null ? null
        : CutBody.Of(whole, plan, pockets, within => mould.Body(pockets, within), (name, mesh, upright) => Place(name, whole.Half, mesh, mould.Joint_mm, upright));

    /// <summary>A body that was made on the joint with its draw upward, in its place in the mould and on the printer's bed.</summary>
    /// <param name="name">Its name, and that of its file.</param>
    /// <param name="half">Where it lies.</param>
    /// <param name="mesh">The body; one of the drag as a mirror image in z.</param>
    /// <param name="joint">Height of the joint in the body's frame; of one that is not flat, its lowest, which lies on the bed.</param>
    /// <param name="pockets">Sunk into its parting face.</param>
    public static KitBody Place(string name, MouldHalf half, TriangleMesh mesh, double joint, ImmutableArray<UprightPocket> pockets)
    {
        // The drag was built as a mirror image in z: mirroring back, or in y for the print, turns the facets over again.
        var (inMould, printed, rows) = half == MouldHalf.Cope
            ? (mesh, mesh.Mapped(v => v with { Z = v.Z - joint }), Rows(1, 1, -joint))
            : (mesh.MirroredBy(v => v with { Z = -v.Z }), mesh.MirroredBy(v => new(v.X, -v.Y, v.Z - joint)), Rows(-1, -1, -joint));
        var (draft, at) = LeastDraft(mesh, inMould, pockets);
        return new(name, half, inMould, printed, rows, draft, at);
    }

    /// <summary>A body of the cope that is drawn out of its top, as the sprue is: printed upside down on its wide end.</summary>
    /// <param name="name">Its name, and that of its file.</param>
    /// <param name="inMould">The body in its place.</param>
    public static KitBody DrawnUpward(string name, TriangleMesh inMould)
    {
        var top = inMould.Bounds().High.Z;
        var printed = inMould.Mapped(v => new(v.X, -v.Y, top - v.Z));
        var (draft, at) = LeastDraft(printed, inMould, []);
        return new(name, MouldHalf.Cope, inMould, printed, Rows(-1, -1, top), draft, at);
    }

    /// <summary>
    /// Least angle from the vertical of the facets that sand touches, radians, and a place there. Level facets have a right angle, so the
    /// parting face and the ceilings of pockets cannot be the least; upright walls of pockets are told by where they stand.
    /// </summary>
    internal static (double Angle, Vec3? At) LeastDraft(TriangleMesh mesh, TriangleMesh inMould, ImmutableArray<UprightPocket> pockets)
    {
        // Many facets share a place of the plan.
        var walls = pockets.Select(p => (Wall: new IndexedFacetDistance(p.Region.Geometry.Boundary), Known: new Dictionary<Vec2, bool>())).ToList();
        var factory = new GeometryFactory();
        bool OnPocket(Facet f) => walls.Exists(w => IsOn(w.Wall, w.Known, f.A) && IsOn(w.Wall, w.Known, f.B) && IsOn(w.Wall, w.Known, f.C));
        bool IsOn(IndexedFacetDistance wall, Dictionary<Vec2, bool> known, int v)
        {
            var p = mesh.Vertices[v].Plan;
            if (!known.TryGetValue(p, out var isOn)) known.Add(p, isOn = wall.IsWithinDistance(factory.CreatePoint(new Coordinate(p.X, p.Y)), OnWall_mm));
            return isOn;
        }

        (double Angle, Vec3? At) least = (Math.PI / 2, null);
        for (var i = 0; i < mesh.Facets.Length; i++)
        {
            var n = mesh.AreaNormal(mesh.Facets[i]);
            if (n.Plan.Length == 0) continue;
            var angle = Math.Atan2(Math.Abs(n.Z), n.Plan.Length);
            if (angle < least.Angle && !(n.Z == 0 && OnPocket(mesh.Facets[i]))) least = (angle, inMould.Vertices[inMould.Facets[i].A]);
        }

        return least;
    }

    private static ImmutableArray<ImmutableArray<double>> Rows(double y, double z, double shift) =>
        [[1, 0, 0, 0], [0, y, 0, 0], [0, 0, z, shift]];
}
