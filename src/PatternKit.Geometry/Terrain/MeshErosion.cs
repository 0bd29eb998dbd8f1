using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Takes metal off the steep walls of a mesh as seen from above: the erosion of its terrain by a cone, E(p) = inf over q of H(q) + k |p − q|, the greatest
/// terrain below H whose slopes nowhere exceed k. It leaves alone what is gentle enough, keeps the foot of every wall and moves its upper end inward.
/// </summary>
/// <remarks>Erosion is the dilation of what lies above the terrain, turned over (Serra 1982): the drafted terrain of that, negated.</remarks>
public static class MeshErosion
{
    /// <summary>The ground is looked at so far beyond the body, mm.</summary>
    private const double Margin_mm = 1;

    /// <summary>The upper skin after erosion, open below; or the mesh as it is where nothing is to be taken off.</summary>
    /// <param name="mesh">Closed or open, z along the draw. What of it lies below the ground does not count.</param>
    /// <param name="ground">Height of the plan outside, on the lattice.</param>
    /// <param name="angle">Draft of walls, radians.</param>
    /// <param name="fraction">Of the run that draft gives a wall, what is taken off at its upper end: 0 nothing, ½ turns it about its middle, 1 gives it all its draft.</param>
    /// <param name="lattice">Corners are put on it.</param>
    /// <param name="tolerance">How far facets may be off, mm.</param>
    public static TriangleMesh Of(TriangleMesh mesh, double ground, double angle, double fraction, Lattice lattice, double tolerance)
    {
        if (fraction == 0) return mesh;
        var (seen, shadow) = VisibleSkin.Of(mesh, ground, lattice);
        if (seen.IsEmpty) return new([], []);
        var space = new SpaceAbove(seen, shadow, ground, Math.Atan(fraction * Math.Tan(angle)), Margin_mm, lattice, tolerance);
        return space.Body(space.Terrain);
    }
}
