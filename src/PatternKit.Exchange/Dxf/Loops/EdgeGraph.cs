using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>One end of an edge: the index of the edge and its side, 0 start or 1 end.</summary>
internal readonly record struct EdgeEnd(int Edge, int Side)
{
    /// <summary>The far end of the same edge.</summary>
    public EdgeEnd Other() => new(Edge, 1 - Side);
}

/// <summary>
/// Edges joined at their ends. Every end gets at most one partner: at a node of two edges each other, at a junction by
/// angle, at a node of one edge the nearest other lone end within the gap tolerance.
/// </summary>
internal sealed class EdgeGraph
{
    private const int MaxLoneEnds = 20_000;
    private readonly List<ChainEdge> _edges;
    private readonly List<Vec2> _nodes;
    private readonly EdgeEnd?[,] _partners;
    private readonly string _source;
    private readonly List<ReadNote> _notes;

    public EdgeGraph(List<ChainEdge> edges, List<Vec2> nodes, double gapTolerance, double roundingGap, string source, List<ReadNote> notes)
    {
        (_edges, _nodes, _source, _notes) = (edges, nodes, source, notes);
        _partners = new EdgeEnd?[edges.Count, 2];
        var atNode = new List<EdgeEnd>[nodes.Count];
        for (var i = 0; i < edges.Count; i++)
            for (var side = 0; side < 2; side++) (atNode[edges[i].Nodes[side]] ??= []).Add(new(i, side));
        foreach (var ends in atNode)
        {
            if (ends is null or { Count: 1 }) continue;
            if (ends.Count == 2) Join(ends[0], ends[1]);
            else JoinJunction(ends);
        }

        if (gapTolerance > 0) CloseGaps([.. atNode.Where(ends => ends is { Count: 1 }).Select(ends => ends[0])], gapTolerance, roundingGap);
    }

    /// <summary>The end that follows this one, or null where the chain stops.</summary>
    public EdgeEnd? Partner(EdgeEnd end) => _partners[end.Edge, end.Side];

    /// <summary>Where an end lies, after gaps were closed.</summary>
    public Vec2 Position(EdgeEnd end) => _nodes[_edges[end.Edge].Nodes[end.Side]];

    private void Join(EdgeEnd a, EdgeEnd b)
    {
        _partners[a.Edge, a.Side] = b;
        _partners[b.Edge, b.Side] = a;
    }

    private double Departure(EdgeEnd end) => _edges[end.Edge].Departure(end.Side);

    // How far two edges are from running straight on into each other, radians.
    private double Turn(EdgeEnd a, EdgeEnd b) => Math.Abs(Math.Abs(Math.IEEERemainder(Departure(a) - Departure(b), 2 * Math.PI)) - Math.PI);

    private void JoinJunction(List<EdgeEnd> ends)
    {
        if (ends.Count % 2 != 0)
        {
            JoinStraightest([.. ends]);
            return;
        }

        // Neighbours by angle, so that the loops touch here and do not cross; of the two ways the one with less turning.
        // What lies inside by even-odd is the same either way.
        var sorted = ends.OrderBy(e => Math.IEEERemainder(Departure(e), 2 * Math.PI)).ThenBy(e => _edges[e.Edge].Curvature(e.Side)).ToList();
        double Total(int shift) => Enumerable.Range(0, sorted.Count / 2).Sum(k => Turn(sorted[(2 * k) + shift], sorted[((2 * k) + shift + 1) % sorted.Count]));
        var shift = Total(0) <= Total(1) ? 0 : 1;
        for (var k = 0; k < sorted.Count / 2; k++) Join(sorted[(2 * k) + shift], sorted[((2 * k) + shift + 1) % sorted.Count]);
        var first = _edges[ends[0].Edge];
        _notes.Add(new(_source, first.Line,
            $"{ends.Count} curves meet at {Say.At(Position(ends[0]))} (layer {first.Layer}); they are joined so that the loops touch there and do not cross."));
    }

    private void JoinStraightest(List<EdgeEnd> ends)
    {
        while (ends.Count > 1)
        {
            var (best, a, b) = (double.PositiveInfinity, 0, 1);
            for (var i = 0; i < ends.Count; i++)
                for (var k = i + 1; k < ends.Count; k++)
                    if (Turn(ends[i], ends[k]) < best) (best, a, b) = (Turn(ends[i], ends[k]), i, k);
            Join(ends[a], ends[b]);
            ends.RemoveAt(b);
            ends.RemoveAt(a);
        }
    }

    private void CloseGaps(List<EdgeEnd> lone, double gapTolerance, double roundingGap)
    {
        if (lone.Count > MaxLoneEnds)
            throw new InputException(_source, $"line {_edges[lone[0].Edge].Line}", $"{lone.Count} ends of curves meet nothing. Is this layer a hatching? Choose the layer of the outline.");
        var grid = new PointGrid(gapTolerance);
        for (var i = 0; i < lone.Count; i++) grid.Add(Position(lone[i]), i);
        var pairs = new List<(double Gap, int A, int B)>();
        for (var a = 0; a < lone.Count; a++)
        {
            foreach (var b in grid.Near(Position(lone[a])))
            {
                if (b <= a || lone[a].Edge == lone[b].Edge) continue;
                var gap = Vec2.Distance(Position(lone[a]), Position(lone[b]));
                if (gap <= gapTolerance) pairs.Add((gap, a, b));
            }
        }

        pairs.Sort();
        var (small, largest, firstLine) = (0, 0.0, 0);
        foreach (var (gap, a, b) in pairs)
        {
            if (Partner(lone[a]) is not null || Partner(lone[b]) is not null) continue;
            Weld(lone[a], lone[b]);
            var (one, other) = (_edges[lone[a].Edge], _edges[lone[b].Edge]);
            if (gap > roundingGap)
                _notes.Add(new(_source, one.Line, $"A gap of {Say.Length(gap)} at {Say.At(Position(lone[a]))} between line {one.Line} and line {other.Line} (layer {one.Layer}) is closed."));
            else
                (small, largest, firstLine) = (small + 1, gap, small == 0 ? one.Line : firstLine);
        }

        if (small > 0) _notes.Add(new(_source, firstLine, $"{small} gaps of rounding, the largest {Say.Length(largest)}, are closed."));
    }

    // Both ends move to the middle; bulges stay.
    private void Weld(EdgeEnd a, EdgeEnd b)
    {
        var middle = 0.5 * (Position(a) + Position(b));
        _nodes[_edges[a.Edge].Nodes[a.Side]] = middle;
        _nodes[_edges[b.Edge].Nodes[b.Side]] = middle;
        Join(a, b);
    }
}
