using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Buffer;
using NetTopologySuite.Operation.OverlayNG;
using NetTopologySuite.Precision;
using NetTopologySuite.Simplify;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The union of many regions whose borders all but coincide, as the parts of a mesh's section do. It is snap-rounded as a whole, since
/// joining such borders in floating point may lose a part unnoticed; then grown by a hair, which closes the slits that rounding left between them.
/// </summary>
internal static class MeshSection
{
    /// <summary>
    /// The hair, in lattice steps: outward, so that it costs no draft, and less than ends of creases may miss the border's corners by.
    /// </summary>
    private const double Hair = 12;

    /// <summary>What a border may be straightened by, in lattice steps: the direction of its shortest pieces is that of rounding.</summary>
    private const double Straightening = 4;

    /// <summary>Points of any of the regions, corners on the lattice.</summary>
    /// <param name="lattice">The lattice.</param>
    /// <param name="regions">The regions.</param>
    /// <param name="isCovered">Whether a gap that the regions shut in is none, asked at a point in it; null where all are left.</param>
    public static PlanRegion Of(Lattice lattice, IEnumerable<PlanRegion> regions, Func<Vec2, bool>? isCovered = null)
    {
        var parts = regions.Where(r => !r.IsEmpty).Select(r => r.Geometry).ToArray();
        if (parts.Length == 0) return PlanRegion.Empty;
        var onLattice = new PrecisionModel(1 / lattice.Step);
        var union = UnaryUnionNG.Union(parts[0].Factory.BuildGeometry(parts), onLattice);
        if (isCovered is not null) union = WithoutGaps(union, isCovered);
        var grown = BufferOp.Buffer(union, Hair * lattice.Step, new BufferParameters(1, EndCapStyle.Flat, JoinStyle.Mitre, 3));
        return PlanRegion.From(GeometryPrecisionReducer.Reduce(TopologyPreservingSimplifier.Simplify(grown, Straightening * lattice.Step), onLattice));
    }

    /// <summary>With what lies in holes and is covered, each piece by itself: in a hole islands may lie, and in those holes again.</summary>
    private static NetTopologySuite.Geometries.Geometry WithoutGaps(NetTopologySuite.Geometries.Geometry union, Func<Vec2, bool> isCovered)
    {
        var region = PlanRegion.From(union);
        var covered = region.Filled().Difference(region).Pieces().Where(gap => isCovered(gap.InnerPoint)).Select(gap => gap.Geometry);
        return union.Factory.BuildGeometry([union, .. covered]);
    }
}
