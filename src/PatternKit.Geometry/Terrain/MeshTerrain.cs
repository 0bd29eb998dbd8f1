using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

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
    public static DraftedTerrain Of(TriangleMesh mesh, double ground, double angle, Lattice lattice, double cornerTolerance) =>
        new(new MeshGround(mesh, ground, angle, lattice), lattice, cornerTolerance);
}
