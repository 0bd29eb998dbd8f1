using System.Collections.Concurrent;
using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Patterns.Moulding;

/// <summary>One of the two surfaces of a half that sand lies against, seen along its own draw: the upper one, or the underside with z negated.</summary>
public sealed class MouldFace
{
    private readonly ImmutableArray<TerrainCell> cells;
    private readonly MouldFace? loose;
    private readonly Lazy<PlanRegion> holes;
    private readonly Lazy<PlanRegion> metal;
    private readonly ConcurrentDictionary<(Plateau Flat, double Radius), PlanRegion> gaps = [];

    /// <summary>Describes a surface.</summary>
    /// <param name="terrain">Drafted, without fillets.</param>
    /// <param name="cells">What it was drafted from; their upper side is this surface.</param>
    /// <param name="holes">Where, drafted, nothing is though the terrain is above the joint: sand of both halves meets there.</param>
    /// <param name="loose">The same surface without the plate that it stands on, if any: the plate is no metal of the casting.</param>
    internal MouldFace(DraftedTerrain terrain, ImmutableArray<TerrainCell> cells, Lazy<PlanRegion> holes, MouldFace? loose = null)
    {
        (Terrain, this.cells, this.holes, this.loose) = (terrain, cells, holes, loose);
        metal = new(() => PlanRegion.Union(cells.Where(c => c.IsMetal).Select(c => c.Region)));
    }

    /// <summary>The surface, drafted, without fillets.</summary>
    public DraftedTerrain Terrain { get; }

    /// <summary>Flats of metal below the highest, highest first: grounds from which something may rise.</summary>
    public IEnumerable<Plateau> Floors() =>
        Terrain.Flats().Where(f => f.Height < Terrain.Levels[0]).Select(f => f with { Region = f.Region.Difference(holes.Value) }).Where(f => !f.Region.IsEmpty);

    /// <summary>Where level ground of the half is at least as high as a floor, holes left out whose sand parts away from the joint.</summary>
    public PlanRegion OpenAtOrAbove(double floor) =>
        PlanRegion.Union(Terrain.Plateaus.Where(p => p.IsLevel && p.Height >= floor).Select(p => p.Region)).Difference(holes.Value);

    /// <summary>Least thickness of the metal under a flat, mm; slips of it that are less than a hundredth of the flat do not count.</summary>
    public double ThicknessUnder(Plateau flat)
    {
        // The lattice of a plate may be coarser.
        if (loose?.Terrain.Levels.FirstOrDefault(z => Math.Abs(z - flat.Height) < 1e-3, double.NaN) is { } own && !double.IsNaN(own)) return loose.ThicknessUnder(flat with { Surface = own });
        var under = cells.Where(c => c.IsMetal && c.Top.IsLevel && c.Upper == flat.Height).ToArray();
        var area = under.Sum(c => c.Region.Area);
        return under.Where(c => c.Region.Area >= 0.01 * area).Select(c => c.Upper - c.Lower).DefaultIfEmpty(flat.Height - Terrain.GroundHeight).Min();
    }

    /// <summary>Where a flat is narrower between walls than a disc of a radius, mm, and its corners. All that rises from one flat asks for much the same radii.</summary>
    public PlanRegion GapsOn(Plateau flat, double radius) =>
        gaps.GetOrAdd((flat, radius), asked => RadiusByRoom.Gaps(Terrain.Above(asked.Flat.Height), asked.Radius).Intersection(asked.Flat.Region));

    /// <summary>The part of a region where metal is.</summary>
    public PlanRegion Metal(PlanRegion region) => region.Intersection(metal.Value);
}
