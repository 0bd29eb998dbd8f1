using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>One closed border of level ground that is rounded, with the ramps that fall from it.</summary>
internal sealed class RimRing
{
    private readonly PlanRegion disc;
    private readonly bool isHole;
    private readonly ImmutableArray<TerrainPiece> ramps;
    private readonly double step;

    private RimRing(double height, TangentArc arc, PlanRegion disc, bool isHole, ImmutableArray<TerrainPiece> ramps, double step) =>
        (Height, Arc, this.disc, this.isHole, this.ramps, this.step) = (height, arc, disc, isHole, ramps, step);

    /// <summary>Of the ground.</summary>
    public double Height { get; }

    /// <summary>Radius, and angle of the walls.</summary>
    public TangentArc Arc { get; }

    /// <summary>The borders of what stands at least as high as the rims, those that stay sharp left out.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="height">Height of the rims.</param>
    /// <param name="radius">The radius at a place.</param>
    public static IEnumerable<RimRing> Of(DraftedTerrain terrain, double height, Func<Vec2, double> radius)
    {
        var step = terrain.Lattice.Step;
        var all = terrain.RampPieces.Where(q => q.IsLevelRamp && q.HeightA == height).ToArray();
        var region = PlanRegion.Union(terrain.Plateaus.Where(p => p.IsLevel && p.Height >= height).Select(p => p.Region));
        foreach (var polygon in region.Pieces())
        {
            // Of a piece, the first ring is the outer one.
            foreach (var (index, ring) in polygon.Rings().Index())
            {
                var line = new IndexedFacetDistance(PlanRegion.Line(ring));
                var along = all.Where(q => Lies(q.A) && Lies(q.B)).ToArray();
                if (along.Length == 0 || radius(0.5 * (along[0].A + along[0].B)) is not (> 0 and var r)) continue;
                var angle = along[0].Angle;
                yield return new(height, new(r, r, angle), PlanRegion.Polygon(ring), index > 0, [.. along.Where(q => q.Angle == angle)], step);

                bool Lies(Vec2 p) => line.IsWithinDistance(new Point(p.X, p.Y), 2 * step);
            }
        }
    }

    /// <summary>What lies up to a distance inside the border, mm, and a hair outside.</summary>
    public PlanRegion Band(double inside)
    {
        const int hair = 16;
        var (fine, sign) = (Fineness * Arc.Radius, isHole ? -1 : 1);
        var (inner, outer) = (disc.Offset(-sign * inside, fine), disc.Offset(sign * hair * step, step));
        return isHole ? inner.Difference(outer) : outer.Difference(inner);
    }

    /// <summary>The ramps down to a plan distance from the border, mm.</summary>
    public PlanRegion Outside(double distance) => PlanRegion.Union(Ramps(distance));

    /// <summary>The line at a distance inside the border, or outside for a negative one, mm.</summary>
    public IEnumerable<ImmutableArray<Vec2>> Line(double inside)
    {
        if (inside > 0) return disc.Offset(isHole ? inside : -inside, Fineness * Arc.Radius).Borders();
        return (isHole ? disc.Difference(Outside(-inside)) : PlanRegion.Union(Ramps(-inside).Prepend(disc))).Borders();
    }

    /// <summary>Chords of lines keep to this part of the radius.</summary>
    public const double Fineness = 0.002;

    private IEnumerable<PlanRegion> Ramps(double distance) =>
        RampBand.Of(ramps).SelectMany(b => b.Above(Height - (distance / Math.Tan(Arc.Angle)), 0)).Select(PlanRegion.Polygon);
}
