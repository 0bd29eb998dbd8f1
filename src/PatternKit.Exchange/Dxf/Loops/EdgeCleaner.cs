using NetTopologySuite.Geometries;
using NetTopologySuite.Index.Strtree;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>Drops edges of no length and edges drawn twice; splits edges that lie partly on each other and drops the doubled part.</summary>
internal sealed class EdgeCleaner(double coincidence, string source, List<ReadNote> notes)
{
    private const int MaxChecks = 5_000_000;

    /// <summary>The edges that remain, their nodes set; node positions are those of the first end met there.</summary>
    public (List<ChainEdge> Edges, List<Vec2> Nodes) Clean(IEnumerable<ChainEdge> drawn)
    {
        var edges = new List<ChainEdge>();
        var nodes = new NodeTable(coincidence);
        foreach (var edge in drawn)
        {
            if (edge.Shape.Length <= coincidence)
            {
                notes.Add(new(source, edge.Line, $"A piece of length zero at {Say.At(edge.Shape.Start)} (layer {edge.Layer}) is dropped."));
                continue;
            }

            nodes.Tie(edge);
            edges.Add(edge);
        }

        return (DropDoubles(Split(DropDoubles(edges, "is drawn twice"), nodes), "lies partly on another curve"), nodes.Points);
    }

    private List<ChainEdge> DropDoubles(List<ChainEdge> edges, string what)
    {
        var kept = new List<ChainEdge>(edges.Count);
        var byNodes = new Dictionary<(int, int), List<ChainEdge>>();
        foreach (var edge in edges)
        {
            var key = (Math.Min(edge.Nodes[0], edge.Nodes[1]), Math.Max(edge.Nodes[0], edge.Nodes[1]));
            if (!byNodes.TryGetValue(key, out var same)) byNodes[key] = same = [];
            if (same.Find(other => Vec2.Distance(other.Middle, edge.Middle) <= 10 * coincidence) is { } twin)
            {
                notes.Add(new(source, edge.Line,
                    $"The piece from {Say.At(edge.Shape.Start)} to {Say.At(edge.Shape.End)} (layer {edge.Layer}) {what} (line {twin.Line}); one of the two is dropped."));
                continue;
            }

            same.Add(edge);
            kept.Add(edge);
        }

        return kept;
    }

    // An edge is split at a node inside it where another edge runs along it.
    private List<ChainEdge> Split(List<ChainEdge> edges, NodeTable nodes)
    {
        var tree = new STRtree<(ChainEdge Edge, int Side)>();
        foreach (var edge in edges)
            for (var side = 0; side < 2; side++) tree.Insert(Box(edge.End(side), edge.End(side)), (edge, side));
        var split = new List<ChainEdge>(edges.Count);
        var checks = 0;
        foreach (var edge in edges)
        {
            var cuts = new List<Vec2>();
            foreach (var (other, side) in tree.Query(Bounds(edge)))
            {
                if (++checks > MaxChecks)
                    throw new InputException(source, $"line {edge.Line}", "there are too many curves on top of each other here. Is this layer a hatching? Choose the layer of the outline.");
                var p = other.End(side);
                if (other == edge || !IsInside(edge, p) || !RunAlong(edge, other, side)) continue;
                if (cuts.TrueForAll(c => Vec2.Distance(c, p) > coincidence)) cuts.Add(p);
            }

            split.AddRange(cuts.Count == 0 ? [edge] : Cut(edge, cuts, nodes));
        }

        return split;
    }

    private bool IsInside(ChainEdge edge, Vec2 p) =>
        Vec2.Distance(p, edge.Shape.Start) > 10 * coincidence && Vec2.Distance(p, edge.Shape.End) > 10 * coincidence
        && SegmentDistance.To(edge.Shape, p) <= 2 * coincidence;

    private bool RunAlong(ChainEdge edge, ChainEdge other, int side)
    {
        if (edge.Shape.IsArc != other.Shape.IsArc) return false;
        if (edge.Shape.IsArc)
            return Vec2.Distance(edge.Shape.Centre, other.Shape.Centre) <= 10 * coincidence && Math.Abs(edge.Shape.Radius - other.Shape.Radius) <= 10 * coincidence;
        // Both ends of the shorter run on the line of the other.
        var (a, b) = (edge.Shape.End - edge.Shape.Start, other.End(1 - side) - other.End(side));
        return Math.Abs(Vec2.Cross(a, b)) <= 4 * coincidence * Math.Max(a.Length, b.Length);
    }

    private static IEnumerable<ChainEdge> Cut(ChainEdge edge, List<Vec2> cuts, NodeTable nodes)
    {
        var s = edge.Shape;
        double Share(Vec2 p)
        {
            if (!s.IsArc) return Vec2.Dot(p - s.Start, s.End - s.Start) / (s.End - s.Start).LengthSquared;
            var (a, b) = (s.Start - s.Centre, p - s.Centre);
            var turn = Math.Atan2(Vec2.Cross(a, b), Vec2.Dot(a, b)) * Math.Sign(s.Bulge);
            return (turn < 0 ? turn + (2 * Math.PI) : turn) / Math.Abs(s.Sweep);
        }

        var (from, at) = (s.Start, 0.0);
        foreach (var (p, share) in cuts.Select(p => (p, Share(p))).OrderBy(c => c.Item2).Append((s.End, 1.0)))
        {
            var piece = new ChainEdge(new(from, p, s.IsArc ? Math.Tan(s.Sweep * (share - at) / 4) : 0), edge.Layer, edge.Line);
            nodes.Tie(piece);
            yield return piece;
            (from, at) = (p, share);
        }
    }

    private Envelope Box(Vec2 a, Vec2 b)
    {
        var box = new Envelope(a.X, b.X, a.Y, b.Y);
        box.ExpandBy(2 * coincidence);
        return box;
    }

    private Envelope Bounds(ChainEdge edge)
    {
        var box = Box(edge.Shape.Start, edge.Shape.End);
        if (!edge.Shape.IsArc) return box;
        var (c, r) = (edge.Shape.Centre, edge.Shape.Radius);
        return Math.Abs(edge.Shape.Bulge) < 0.5
            ? Grown(box, Math.Abs(edge.Shape.Bulge) * Vec2.Distance(edge.Shape.Start, edge.Shape.End) / 2)
            : Box(c - new Vec2(r, r), c + new Vec2(r, r));
    }

    private static Envelope Grown(Envelope box, double by)
    {
        box.ExpandBy(by);
        return box;
    }
}

/// <summary>The distinct end points of edges.</summary>
internal sealed class NodeTable(double coincidence)
{
    private readonly PointGrid _grid = new(coincidence);

    public List<Vec2> Points { get; } = [];

    /// <summary>Gives both ends of an edge their nodes.</summary>
    public void Tie(ChainEdge edge)
    {
        for (var side = 0; side < 2; side++) edge.Nodes[side] = NodeAt(edge.End(side));
    }

    private int NodeAt(Vec2 p)
    {
        foreach (var id in _grid.Near(p))
            if (Vec2.Distance(Points[id], p) <= coincidence) return id;
        Points.Add(p);
        _grid.Add(p, Points.Count - 1);
        return Points.Count - 1;
    }
}
