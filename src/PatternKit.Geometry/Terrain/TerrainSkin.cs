using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>A terrain as a mesh over its footprint, open below.</summary>
internal static class TerrainSkin
{
    /// <summary>
    /// The skin of a drafted body has its draft already. Corners that rounding puts a hair outside of their walls would be given it once more, and planes in place of cones stand out by
    /// this part of the tolerance at the most.
    /// </summary>
    private const double CornerOverTolerance = 0.125;

    /// <summary>The terrain of the skin of a drafted body.</summary>
    /// <param name="skin">As seen from above.</param>
    /// <param name="ground">Height of the plan outside, on the lattice.</param>
    /// <param name="angle">Draft of its walls, radians.</param>
    /// <param name="lattice">Where its corners are.</param>
    /// <param name="tolerance">How far facets may be off, mm.</param>
    public static DraftedTerrain Drafted(TriangleMesh skin, double ground, double angle, Lattice lattice, double tolerance) =>
        new(new MeshGround(skin, ground, angle, lattice), lattice, CornerOverTolerance * tolerance);

    /// <summary>Meshes a terrain.</summary>
    /// <param name="terrain">On level ground.</param>
    /// <param name="lattice">Corners are put on it.</param>
    /// <param name="error">How far facets may be off, mm.</param>
    public static TriangleMesh Of(ITerrain terrain, Lattice lattice, double error)
    {
        var domain = terrain.Footprint;
        ImmutableArray<ZonedRing> rings = [.. domain.Rings().Select(r => new ZonedRing(r, TerrainMesher.Domain, terrain.GroundHeight))];
        var made = TerrainMesher.Mesh(terrain, TerrainSolid.WithBreaklines(rings, domain, terrain, lattice, new(error)), [], lattice, new(error), liftChords: true);
        return new([.. made.Points.Select((p, v) => new Vec3(p.X, p.Y, made.Heights[v]))], [.. made.Facets.Select(f => new Facet(f.A, f.B, f.C))]);
    }
}
