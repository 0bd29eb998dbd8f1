using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Drafted terrains of meshes: the upper envelope of all that a mesh has above the ground under the cone of the draft, with planes in place of the
/// cones at jutting corners. It asks for no inside, so that what hangs over hidden space fills it.
/// </summary>
public static class MeshTerrain
{
    /// <summary>Drafts a mesh.</summary>
    /// <param name="mesh">Closed or open, z along the draw. What of it lies below the ground does not count.</param>
    /// <param name="ground">Height of the plan outside, on the lattice.</param>
    /// <param name="angle">Angle of walls from the vertical, radians.</param>
    /// <param name="lattice">Its corners are put on it.</param>
    /// <param name="cornerTolerance">How far the planes around a jutting corner may stand out from the cone.</param>
    /// <param name="fraction">How much of a wall's run is taken off it first (see <see cref="MeshErosion"/>): 0 to 1.</param>
    public static DraftedTerrain Of(TriangleMesh mesh, double ground, double angle, Lattice lattice, double cornerTolerance, double fraction = 0) =>
        new(new MeshGround(MeshErosion.Of(mesh, ground, angle, fraction, lattice, cornerTolerance), ground, angle, lattice), lattice, cornerTolerance);

    /// <summary>
    /// Drafts hollows of a mesh as seen from the plane that they open to: the terrain of the body with that plane up, cut off at it, with level ground at its height everywhere but over the hollows.
    /// </summary>
    /// <param name="mesh">With the plane up.</param>
    /// <param name="plane">Its height, on the lattice.</param>
    /// <param name="hollows">Where hollows may be seen; beyond the body nothing is.</param>
    /// <param name="angle">Angle of walls from the vertical, radians.</param>
    /// <param name="lattice">Corners are put on it.</param>
    /// <param name="cornerTolerance">How far the planes around a jutting corner may stand out from the cone.</param>
    /// <param name="fraction">How much of a wall's run is taken off it first: 0 to 1.</param>
    /// <returns>The terrain, its ground below all hollows.</returns>
    public static DraftedTerrain OfHollows(TriangleMesh mesh, double plane, PlanRegion hollows, double angle, Lattice lattice, double cornerTolerance, double fraction = 0)
    {
        var box = mesh.Bounds();
        var ground = lattice.Snap(Math.Min(box.Low.Z, plane) - 1);
        var body = new MeshGround(mesh, ground, angle, lattice);
        // What the body covers in plan, walls too upright to be seen included where they are enclosed; a hair less, so that no slit is left beside it.
        var shadow = MeshSection.Of(lattice, body.Above(double.NegativeInfinity, _ => true).Concat(body.Flats.Select(f => f.Region))).Filled().Offset(-Hair * lattice.Step, lattice.Step);
        var reach = ((plane - ground) * Math.Tan(angle)) + Margin_mm;
        var around = PlanRegion.Rectangle(box.Low.Plan - new Vec2(reach, reach), box.High.Plan + new Vec2(reach, reach));
        var level = PlanRegion.UnionOn(lattice, [around.Difference(hollows.Intersection(shadow))]);
        Vec3[] corners = [.. VisibleSkin.Level(level, plane, lattice).SelectMany(t => new[] { t.A, t.B, t.C })];
        var offset = mesh.Vertices.Length;
        var with = new TriangleMesh(
            [.. mesh.Vertices, .. corners], [.. mesh.Facets, .. Enumerable.Range(0, corners.Length / 3).Select(i => new Facet(offset + (3 * i), offset + (3 * i) + 1, offset + (3 * i) + 2))]);
        return new(new MeshGround(MeshErosion.Of(with, ground, angle, fraction, lattice, cornerTolerance), ground, angle, lattice), lattice, cornerTolerance, plane);
    }

    /// <summary>Level ground reaches so far beyond all draft, mm.</summary>
    private const double Margin_mm = 1;

    /// <summary>More lattice steps than borders of a section are put outward by.</summary>
    private const double Hair = 32;
}
