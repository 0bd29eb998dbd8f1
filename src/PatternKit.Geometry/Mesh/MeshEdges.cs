using System.Collections.Immutable;

namespace PatternKit.Geometry.Mesh;

/// <summary>
/// The sides of all facets, brought together by their two end numbers. A side is named by its corner number
/// 3·facet + k, the side that leaves that corner. Facets that name a number twice are left out.
/// </summary>
internal sealed class MeshEdges
{
    private readonly int[] _sides;
    private readonly int[] _starts;
    private readonly ImmutableArray<Facet> _facets;
    private readonly int[] _number;

    /// <param name="facets">The facets.</param>
    /// <param name="number">A number for each vertex: itself, or the same for vertices that count as one.</param>
    public MeshEdges(ImmutableArray<Facet> facets, int[] number)
    {
        _facets = facets;
        _number = number;
        var sides = new int[facets.Length * 3];
        var (count, most) = (0, -1);
        for (var f = 0; f < facets.Length; f++)
        {
            var (a, b, c) = (number[facets[f].A], number[facets[f].B], number[facets[f].C]);
            if (a == b || b == c || c == a) continue;
            for (var side = 3 * f; side < (3 * f) + 3; side++) sides[count++] = side;
            most = Math.Max(most, Math.Max(a, Math.Max(b, c)));
        }

        (_sides, _starts) = EdgeSides.Of(sides.AsSpan(0, count), side => (_number[Start(side)], _number[End(side)]), most + 1);
    }

    /// <summary>All edges: for each, the sides that use it, ascending.</summary>
    public IEnumerable<ArraySegment<int>> Groups()
    {
        for (var i = 0; i + 1 < _starts.Length; i++) yield return new(_sides, _starts[i], _starts[i + 1] - _starts[i]);
    }

    /// <summary>The vertex at which a side starts.</summary>
    public int Start(int side) => Corner(_facets[side / 3], side % 3);

    /// <summary>The vertex at which a side ends.</summary>
    public int End(int side) => Corner(_facets[side / 3], Next(side) % 3);

    /// <summary>Whether the side runs from the smaller to the larger number.</summary>
    public bool RunsUp(int side) => _number[Start(side)] < _number[End(side)];

    /// <summary>Corners joined into fans: two corners at one vertex belong together when their facets share an edge there.</summary>
    public DisjointSets Fans()
    {
        var fans = new DisjointSets(_facets.Length * 3);
        foreach (var group in Groups())
        {
            var first = group[0];
            for (var i = 1; i < group.Count; i++)
            {
                var other = group[i];
                var sameWay = RunsUp(first) == RunsUp(other);
                fans.Join(first, sameWay ? other : Next(other));
                fans.Join(Next(first), sameWay ? Next(other) : other);
            }
        }

        return fans;
    }

    /// <summary>The corner after a corner in the same facet.</summary>
    public static int Next(int corner) => corner % 3 == 2 ? corner - 2 : corner + 1;

    private static int Corner(Facet f, int k) => k switch
    {
        0 => f.A,
        1 => f.B,
        _ => f.C,
    };
}
