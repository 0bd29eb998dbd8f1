using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Inset;

/// <summary>
/// The edge of a foot cut back, where the first layer of a print spreads: from the wall at the height of that layer, in a straight slope, to a line inside of it on the foot. Slopes meet in mitres at corners that jut out and
/// run round those that do not, so that the line is as far from the wall everywhere.
/// </summary>
internal static class TrimmedFoot
{
    /// <summary>Makes the body; null where a pocket is too near to the edge.</summary>
    /// <param name="terrain">Its upper side, the ground at the height of the first layer.</param>
    /// <param name="width">How far the edge is cut back, mm.</param>
    /// <param name="pockets">Sunk into the foot; none goes through.</param>
    /// <param name="lattice">Coordinates of the result.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    public static TriangleMesh? Build(ITerrain terrain, double width, ImmutableArray<UprightPocket> pockets, Lattice lattice, MeshingTolerance tolerance)
    {
        var (domain, height) = (terrain.Footprint, terrain.GroundHeight);
        if (domain.IsEmpty) return new([], []);
        var foot = PlanRegion.UnionOn(lattice, [domain.Offset(-width, tolerance.Error_mm / 4)]);
        if (pockets.Any(p => p.IsThrough || !foot.Offset(-2 * tolerance.Error_mm, tolerance.Error_mm).Covers(p.Region))) return null;
        ImmutableArray<ZonedRing> rim = [.. domain.Rings().Select(r => new ZonedRing(r, TerrainMesher.Domain, height))];
        var top = TerrainMesher.Mesh(terrain, TerrainSolid.WithBreaklines(rim, domain, terrain, lattice, tolerance), [], lattice, tolerance, liftChords: true);
        ImmutableArray<ZonedRing> rings =
        [
            .. TerrainSolid.RimLoops(top).Select(l => new ZonedRing(l, TerrainMesher.Domain, height)),
            .. foot.Rings().Select(r => new ZonedRing(r, 0, 0)),
            .. pockets.SelectMany(p => p.Region.Rings()).Select(r => new ZonedRing(r, TerrainMesher.Pocket, 0)),
        ];
        var bottom = TerrainMesher.Mesh(new Slope(domain, foot, width, height), rings, [.. pockets.Select(p => p.Region)], lattice, tolerance, liftChords: false);
        return new SolidStitcher(top, bottom, [.. pockets.Select(p => lattice.Snap(p.Depth))], new HashSet<Vec2>()).Stitch();
    }

    /// <summary>Height above the foot by the distance from the wall.</summary>
    private sealed class Slope(PlanRegion domain, PlanRegion foot, double width, double height) : ITerrainField
    {
        private readonly IndexedFacetDistance wall = new(domain.Geometry.Boundary);

        public TerrainSample At(Vec2 p)
        {
            var to = new Point(p.X, p.Y);
            if (foot.Contains(p)) return new(0, default, 0);
            var nearest = wall.NearestPoints(to)[0];
            var away = p - new Vec2(nearest.X, nearest.Y);
            return new(height * Math.Max(0, 1 - (away.Length / width)), away.Length > 0 ? -height / width * away.Normalized() : default, 1);
        }

        public double Extended(int surface, Vec2 p, out Vec2 gradient)
        {
            var here = At(p);
            gradient = surface == 0 ? default : here.Gradient;
            return surface == 0 ? 0 : here.Height;
        }

        public double SteepestFacet(int surface, double margin) => double.PositiveInfinity;
    }
}
