using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// An upright block whose underside is ground that is not level, with a hollow let into it. The hollow is a terrain on that ground, so that what fills it is drawn as the
/// terrain is.
/// </summary>
public static class NestedBlock
{
    /// <summary>The body { max(ground, hollow) ≤ z ≤ back } over the plan, its walls upright.</summary>
    /// <param name="plan">On the lattice.</param>
    /// <param name="back">Height of the level upper side, above ground and hollow everywhere.</param>
    /// <param name="hollow">The hollow, and the ground.</param>
    /// <param name="lattice">All coordinates of the result lie on it.</param>
    /// <param name="tolerance">Tolerances.</param>
    public static TriangleMesh Build(PlanRegion plan, double back, TerrainOverGround hollow, Lattice lattice, MeshingTolerance tolerance)
    {
        var box = plan.Geometry.EnvelopeInternal;
        ImmutableArray<ZonedRing> rings =
        [
            .. plan.Rings().Select(r => new ZonedRing(r, TerrainMesher.Domain)),
            .. hollow.Footprint.Rings().Select(r => new ZonedRing(r, 0, Ground: hollow.Ground)),
        ];
        var sides = hollow.Ground.SidesNear(new(box.MinX, box.MinY), new(box.MaxX, box.MaxY)).Select(s => new ZonedRing([s.From, s.To], 0, IsOpen: true));
        var bottom = TerrainMesher.Mesh(
            new HollowOnGround(hollow), [.. TerrainSolid.WithBreaklines(rings, hollow.Footprint, hollow, lattice, tolerance), .. sides], [], lattice, tolerance, liftChords: false);
        ImmutableArray<ZonedRing> edge = [.. TerrainSolid.RimLoops(bottom).Select(loop => new ZonedRing(loop, TerrainMesher.Domain))];
        var top = TerrainMesher.Mesh(new LevelField(lattice.Snap(back)), edge, [], lattice, tolerance, liftChords: false, keepAll: true);
        return new SolidStitcher(top, bottom, [], bottom.Rim.Select(e => bottom.Points[e.From]).ToHashSet()).Stitch();
    }

    /// <summary>Height of the underside over a place of the plan.</summary>
    /// <param name="hollow">The hollow, and the ground.</param>
    /// <param name="p">The place.</param>
    public static double Underside(TerrainOverGround hollow, Vec2 p) => new HollowOnGround(hollow).At(p).Height;

    /// <summary>The higher of ground and hollow; surfaces of the ground, which begin at −1, are numbered downward.</summary>
    private sealed class HollowOnGround(TerrainOverGround hollow) : ITerrainField
    {
        private const int First = -2;

        public TerrainSample At(Vec2 p)
        {
            var (over, under) = (hollow.At(p), hollow.Ground.At(p));
            return over.Height > under.Height ? over : under with { Surface = First - (under.Surface + 1) };
        }

        public double Extended(int surface, Vec2 p, out Vec2 gradient) =>
            surface > First ? hollow.Extended(surface, p, out gradient) : hollow.Ground.Extended(First - surface - 1, p, out gradient);

        public double SteepestFacet(int surface, double margin = 0) => surface > First ? hollow.SteepestFacet(surface, margin) : double.PositiveInfinity;

        public double AlwaysAllowed => hollow.AlwaysAllowed;

        public bool IsCurved => hollow.IsCurved;
    }
}
