using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>Which pieces of a plan partition share a stretch of border (a common point alone is none), and which reach the outside.</summary>
public sealed class CellNeighbours
{
    private readonly Dictionary<(int, int), List<(Vec2 A, Vec2 B)>> between;

    private CellNeighbours(
        ImmutableArray<ImmutableArray<int>> of, ImmutableArray<bool> reachesOutside, Dictionary<(int, int), List<(Vec2 A, Vec2 B)>> between) =>
        (Of, ReachesOutside, this.between) = (of, reachesOutside, between);

    /// <summary>The ascending numbers of the neighbours of each piece.</summary>
    public ImmutableArray<ImmutableArray<int>> Of { get; }

    /// <summary>Whether the piece borders on the unbounded outside.</summary>
    public ImmutableArray<bool> ReachesOutside { get; }

    /// <summary>The straight pieces of the border that two neighbours share.</summary>
    public IReadOnlyList<(Vec2 A, Vec2 B)> Between(int piece, int neighbour) => between[(Math.Min(piece, neighbour), Math.Max(piece, neighbour))];

    /// <summary>Reads the neighbours off shared border vertices.</summary>
    /// <param name="pieces">Single polygons that share their border vertices exactly.</param>
    public static CellNeighbours Among(IReadOnlyList<PlanRegion> pieces)
    {
        var of = pieces.Select(_ => new SortedSet<int>()).ToArray();
        var outside = new bool[pieces.Count];
        var between = new Dictionary<(int, int), List<(Vec2 A, Vec2 B)>>();
        foreach (var b in Faces.Borders([.. pieces.Select(p => (Polygon)p.Geometry)]))
        {
            if (b.Left == Border.Outside) outside[b.Right] = true;
            else if (b.Right == Border.Outside) outside[b.Left] = true;
            else if (b.Left != b.Right)
            {
                of[b.Left].Add(b.Right);
                of[b.Right].Add(b.Left);
                var pair = (Math.Min(b.Left, b.Right), Math.Max(b.Left, b.Right));
                if (!between.TryGetValue(pair, out var list)) between.Add(pair, list = []);
                list.Add((new(b.A.X, b.A.Y), new(b.B.X, b.B.Y)));
            }
        }

        return new([.. of.Select(s => s.ToImmutableArray())], [.. outside], between);
    }
}
