using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// An upright block with a hollow let into its underside. The hollow is a terrain over the ground of the block, so that it is drawn as the terrain is; where
/// it reaches the edge of the plan, it is open there.
/// </summary>
public static class HollowBlock
{
    /// <summary>The body { hollow ≤ z ≤ back } over the plan, its walls upright.</summary>
    /// <param name="plan">On the lattice.</param>
    /// <param name="back">Height of the level upper side, above the hollow everywhere.</param>
    /// <param name="hollow">The hollow; its ground is the underside of the block.</param>
    /// <param name="pockets">Sunk into the underside, clear of the hollow; none goes through.</param>
    /// <param name="lattice">All coordinates of the result lie on it.</param>
    /// <param name="tolerance">Tolerances.</param>
    public static TriangleMesh Build(PlanRegion plan, double back, ITerrain hollow, ImmutableArray<UprightPocket> pockets, Numerics.Lattice lattice, MeshingTolerance tolerance)
    {
        // Where the hollow is open at the edge, the edge has as many points as it takes to follow it.
        var cut = new CutRim(hollow, null, [], plan, lattice, tolerance);
        var along = cut.Rings().SelectMany(r => r.Points).Where(cut.IsUpright).ToArray();
        ImmutableArray<ZonedRing> rings =
        [
            .. plan.Rings().Select(r => TerrainSolid.With(new(r, TerrainMesher.Domain), along, 4 * lattice.Step)),
            .. hollow.Footprint.Rings().Select(r => new ZonedRing(r, 0, hollow.GroundHeight)),
            .. pockets.SelectMany(p => p.Region.Rings()).Select(r => new ZonedRing(r, TerrainMesher.Pocket, hollow.GroundHeight)),
        ];
        var bottom = TerrainMesher.Mesh(
            hollow, TerrainSolid.WithBreaklines(rings, plan, hollow, lattice, tolerance), [.. pockets.Select(p => p.Region)], lattice, tolerance, liftChords: false);
        ImmutableArray<ZonedRing> edge = [.. TerrainSolid.RimLoops(bottom).Select(loop => new ZonedRing(loop, TerrainMesher.Domain))];
        var top = TerrainMesher.Mesh(new LevelField(lattice.Snap(back)), edge, [], lattice, tolerance, liftChords: false, keepAll: true);
        return new SolidStitcher(
            top, bottom, [.. pockets.Select(p => lattice.Snap(p.Depth))], bottom.Rim.Select(e => bottom.Points[e.From]).ToHashSet()).Stitch();
    }
}
