using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>A piece of the plan with the heights that an upper and a lower terrain start from there.</summary>
/// <param name="Region">One polygon, holes allowed.</param>
/// <param name="Top">The upper terrain.</param>
/// <param name="Floor">The lower terrain; nowhere above the upper, and the same level where no metal is.</param>
/// <param name="IsMetal">Whether the body is here; false over a hole.</param>
/// <param name="IsOpen">Whether the body here was a recess open to the outside, filled to the base height.</param>
public sealed record TerrainCell(PlanRegion Region, HeightPlane Top, HeightPlane Floor, bool IsMetal, bool IsOpen)
{
    private readonly Vec2 centre = Region.Centroid;

    /// <summary>Mean height of the upper terrain, mm; its height everywhere where it is level.</summary>
    public double Upper => Top.At(centre);

    /// <summary>Mean height of the lower terrain, mm.</summary>
    public double Lower => Floor.At(centre);
}

/// <summary>What stands on a piece of the plan; see <see cref="TerrainCell"/>.</summary>
public readonly record struct TerrainKind(HeightPlane Top, HeightPlane Floor, bool IsMetal, bool IsOpen);

/// <summary>
/// A body between two terrains before any draft. Cells do not overlap and neighbours share their border vertices
/// exactly; beyond the cells both terrains lie at <paramref name="Base"/>.
/// </summary>
/// <param name="Cells">The pieces.</param>
/// <param name="Base">Height of both terrains outside, mm.</param>
public sealed record TerrainMap(ImmutableArray<TerrainCell> Cells, double Base)
{
    /// <summary>Volume between the terrains, mm³.</summary>
    public double Volume => Cells.Sum(c => c.Region.Area * (c.Upper - c.Lower));

    /// <summary>The map of single polygons that share their border vertices exactly; neighbours of one kind become one cell.</summary>
    /// <param name="pieces">The polygons.</param>
    /// <param name="kinds">What stands on each; null for nothing, as outside.</param>
    /// <param name="ground">Height of both terrains outside, mm.</param>
    public static TerrainMap Joined(IReadOnlyList<PlanRegion> pieces, IEnumerable<TerrainKind?> kinds, double ground)
    {
        var listed = new List<TerrainKind>();
        var numbers = new Dictionary<TerrainKind, int>();
        var labels = kinds.Select(kind =>
        {
            if (kind is not { } known) return -1;
            if (numbers.TryAdd(known, listed.Count)) listed.Add(known);
            return numbers[known];
        }).ToList();
        HeightPlane flat = new(ground, default);
        return new(
            [
                .. PlanPartition.Merge(pieces, labels, outside: -1).Select(m =>
                {
                    var (top, floor, isMetal, isOpen) = m.Label < 0 ? new(flat, flat, false, false) : listed[m.Label];
                    return new TerrainCell(m.Region, top, floor, isMetal, isOpen);
                }),
            ],
            ground);
    }
}
