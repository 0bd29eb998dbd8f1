using NetTopologySuite.Geometries;
using NetTopologySuite.Index.Strtree;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>The segments of a path, found by a place that lies on them.</summary>
internal sealed class SegmentIndex
{
    private readonly STRtree<PlanSegment> _tree = new();
    private readonly double _tolerance;

    /// <param name="path">The path.</param>
    /// <param name="tolerance">A place this close to a segment lies on it.</param>
    public SegmentIndex(PlanPath path, double tolerance)
    {
        _tolerance = tolerance;
        for (var i = 0; i < path.SegmentCount; i++)
        {
            var segment = path.Segment(i);
            var (low, high) = PathShape.Box(new PlanPath([path.Vertices[i], new(segment.End)], false));
            var box = new Envelope(low.X, high.X, low.Y, high.Y);
            box.ExpandBy(2 * tolerance);
            _tree.Insert(box, segment);
        }
    }

    /// <summary>The segments that the place lies on.</summary>
    public IEnumerable<PlanSegment> At(Vec2 p) => _tree.Query(new Envelope(p.X, p.X, p.Y, p.Y)).Where(s => SegmentDistance.To(s, p) <= _tolerance);

    /// <summary>Whether start, middle and end of a segment lie on one segment of the path.</summary>
    public bool Holds(PlanSegment segment, Vec2 middle) =>
        At(segment.Start).Any(s => SegmentDistance.To(s, segment.End) <= _tolerance && SegmentDistance.To(s, middle) <= _tolerance);
}
