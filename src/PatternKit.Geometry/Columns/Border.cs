using NetTopologySuite.Geometries;
using NetTopologySuite.Noding;
using NetTopologySuite.Noding.Snapround;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>
/// A noded straight piece of linework from A to B, A before B in x then y, and what lies on both sides of it.
/// </summary>
internal sealed record Border(Coordinate A, Coordinate B, int Left, int Right)
{
    /// <summary>No face: the unbounded outside.</summary>
    internal const int Outside = -1;

    /// <summary>The same for a pair of ends in either order.</summary>
    internal static BorderEnds Key(Coordinate p, Coordinate q) => p.CompareTo(q) < 0 ? new(p.X, p.Y, q.X, q.Y) : new(q.X, q.Y, p.X, p.Y);

    /// <summary>A border by its two ends in either order and what lies left and right on the way from the first to the second.</summary>
    internal static Border Between(Coordinate from, Coordinate to, int left, int right) =>
        from.CompareTo(to) < 0 ? new(from, to, left, right) : new(to, from, right, left);

    /// <summary>What lies left on the way from <paramref name="from"/>, which is one of the ends.</summary>
    internal int LeftFrom(Coordinate from) => from.Equals2D(A) ? Left : Right;
}

/// <summary>Both ends of a piece, the smaller first, in ascending order of their coordinates.</summary>
internal sealed record BorderEnds(double AX, double AY, double BX, double BY) : IComparable<BorderEnds>
{
    /// <inheritdoc/>
    public int CompareTo(BorderEnds? other) =>
        other is null ? 1 : AX != other.AX ? AX.CompareTo(other.AX) : AY != other.AY ? AY.CompareTo(other.AY) : BX != other.BX ? BX.CompareTo(other.BX) : BY.CompareTo(other.BY);
}

/// <summary>
/// All outlines of some regions cut at their crossings, every vertex on the lattice (snap rounding: Hobby 1999,
/// Goodrich et al. 1997, as built in NetTopologySuite), each piece with the regions whose border it is.
/// </summary>
internal static class NodedOutlines
{
    /// <summary>
    /// The pieces in ascending order. A piece that a region's border runs along an even number of times, such as the
    /// two sides of a sliver that the lattice closed, is no border of that region. Pieces of the cuts belong to no region.
    /// </summary>
    internal static List<(Coordinate A, Coordinate B, List<int> Regions)> Of(IReadOnlyList<PlanRegion> regions, double step, IReadOnlyList<LineString> cuts)
    {
        var strings = new List<ISegmentString>();
        for (var i = 0; i < regions.Count; i++)
            foreach (var line in NetTopologySuite.Geometries.Utilities.LinearComponentExtracter.GetLines(regions[i].Geometry))
                if (!line.IsEmpty) strings.Add(new NodedSegmentString(line.Coordinates, i));
        if (strings.Count == 0) return [];
        foreach (var cut in cuts) strings.Add(new NodedSegmentString(cut.Coordinates, null));

        var noder = new SnapRoundingNoder(new PrecisionModel(1 / step));
        noder.ComputeNodes(strings);
        var pieces = new Dictionary<BorderEnds, List<int>>();
        var lines = new HashSet<BorderEnds>();
        foreach (var s in noder.GetNodedSubstrings())
        {
            var region = (int?)s.Context;
            for (var i = 1; i < s.Count; i++)
            {
                var (p, q) = (s.Coordinates[i - 1], s.Coordinates[i]);
                if (p.Equals2D(q)) continue;
                var key = Border.Key(p, q);
                if (!pieces.TryGetValue(key, out var list)) pieces.Add(key, list = []);
                if (region is not { } number) lines.Add(key);
                else if (!list.Remove(number)) list.Add(number);
            }
        }

        return [.. pieces.Where(p => p.Value.Count > 0 || lines.Contains(p.Key)).OrderBy(p => p.Key).Select(p =>
            (new Coordinate(p.Key.AX, p.Key.AY), new Coordinate(p.Key.BX, p.Key.BY), p.Value))];
    }
}
