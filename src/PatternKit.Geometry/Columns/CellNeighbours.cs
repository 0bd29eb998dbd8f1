using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>Which pieces of a plan partition share a stretch of border (a common point alone is none), and which reach the outside.</summary>
public sealed class CellNeighbours
{
    private CellNeighbours(ImmutableArray<ImmutableArray<int>> of, ImmutableArray<bool> reachesOutside) =>
        (Of, ReachesOutside) = (of, reachesOutside);

    /// <summary>The ascending numbers of the neighbours of each piece.</summary>
    public ImmutableArray<ImmutableArray<int>> Of { get; }

    /// <summary>Whether the piece borders on the unbounded outside.</summary>
    public ImmutableArray<bool> ReachesOutside { get; }

    /// <summary>Reads the neighbours off shared border vertices.</summary>
    /// <param name="pieces">Single polygons that share their border vertices exactly.</param>
    public static CellNeighbours Among(IReadOnlyList<PlanRegion> pieces)
    {
        var of = pieces.Select(_ => new SortedSet<int>()).ToArray();
        var outside = new bool[pieces.Count];
        foreach (var b in Faces.Borders([.. pieces.Select(p => (Polygon)p.Geometry)]))
        {
            if (b.Left == Border.Outside) outside[b.Right] = true;
            else if (b.Right == Border.Outside) outside[b.Left] = true;
            else if (b.Left != b.Right)
            {
                of[b.Left].Add(b.Right);
                of[b.Right].Add(b.Left);
            }
        }

        return new([.. of.Select(s => s.ToImmutableArray())], [.. outside]);
    }
}
