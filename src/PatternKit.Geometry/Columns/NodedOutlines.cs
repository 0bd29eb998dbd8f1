using NetTopologySuite.Geometries;
using NetTopologySuite.Noding;
using NetTopologySuite.Noding.Snapround;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

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
    internal static List<(Coordinate A, Coordinate B, List<int> Regions)> Of(IReadOnlyList<PlanRegion> regions, double step, IReadOnlyList<(Vec2 From, Vec2 To)> cuts)
    {
        var strings = new List<ISegmentString>();
        for (var i = 0; i < regions.Count; i++)
            foreach (var line in NetTopologySuite.Geometries.Utilities.LinearComponentExtracter.GetLines(regions[i].Geometry))
                if (!line.IsEmpty) strings.Add(new NodedSegmentString(line.Coordinates, i));
        if (strings.Count == 0) return [];
        foreach (var (from, to) in cuts) strings.Add(new NodedSegmentString([new(from.X, from.Y), new(to.X, to.Y)], null));

        var noder = new SnapRoundingNoder(new PrecisionModel(1 / step));
        noder.ComputeNodes(strings);
        var pieces = new Dictionary<BorderEnds, (List<int> Regions, bool IsCut)>();
        foreach (var s in noder.GetNodedSubstrings())
        {
            var region = (int?)s.Context;
            for (var i = 1; i < s.Count; i++)
            {
                var (p, q) = (s.Coordinates[i - 1], s.Coordinates[i]);
                if (p.Equals2D(q)) continue;
                var key = Border.Key(p, q);
                var (list, isCut) = pieces.TryGetValue(key, out var known) ? known : ([], false);
                if (region is not { } number) isCut = true;
                else if (!list.Remove(number)) list.Add(number);
                pieces[key] = (list, isCut);
            }
        }

        return [.. pieces.Where(p => p.Value.Regions.Count > 0 || p.Value.IsCut).OrderBy(p => p.Key).Select(p =>
            (new Coordinate(p.Key.AX, p.Key.AY), new Coordinate(p.Key.BX, p.Key.BY), p.Value.Regions))];
    }
}
