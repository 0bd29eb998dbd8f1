using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>
/// Joins curves into closed loops. A <em>lone end</em> meets no other end; a <em>junction</em> is a place where more than
/// two ends meet; a <em>gap</em> is the distance between two lone ends.
/// </summary>
public static class LoopChaining
{
    /// <summary>
    /// Chains the curves of an outline. Closed curves are loops of their own. Ends that coincide are joined; lone ends are
    /// joined nearest first across gaps up to the tolerance. Pieces of no length, doubles and overlaps are dropped.
    /// </summary>
    /// <param name="curves">The curves, in drawing units, as a rule those of one layer.</param>
    /// <param name="gapTolerance">Widest gap that is closed, drawing units; 0 closes none beyond rounding.</param>
    /// <param name="sourceName">Name of the file, for messages.</param>
    /// <returns>Closed loops in order of their first curve, and a note for every repair. They may still cross: see <see cref="LoopCheck"/>.</returns>
    /// <exception cref="InputException">A curve is left that is no part of a closed loop.</exception>
    public static ReadResult<ImmutableArray<PlanPath>> Chain(IEnumerable<DxfCurve> curves, double gapTolerance, string sourceName)
    {
        ArgumentNullException.ThrowIfNull(curves);
        if (!(gapTolerance >= 0)) throw new ArgumentOutOfRangeException(nameof(gapTolerance), gapTolerance, "A gap tolerance is not negative.");
        var all = curves.ToList();
        var notes = new List<ReadNote>();
        var scale = DrawingScale.Of(all.Select(c => c.Path));
        var loops = new List<DxfCurve>();
        foreach (var curve in all.Where(c => c.Path.IsClosed))
            if (Tidy(curve, scale.Coincidence, sourceName, notes) is { } loop) loops.Add(loop);
        var (edges, nodes) = new EdgeCleaner(scale.Coincidence, sourceName, notes).Clean(all.Where(c => !c.Path.IsClosed).SelectMany(ChainEdge.Of));
        var graph = new EdgeGraph(edges, nodes, gapTolerance, Math.Min(gapTolerance, scale.Rounding), sourceName, notes);
        var walked = new bool[edges.Count];
        var open = OpenChains(edges, graph, walked);
        var closed = new Lazy<List<(DxfCurve Loop, SegmentIndex Sides)>>(() => [.. loops.Select(l => (l, new SegmentIndex(l.Path, 10 * scale.Coincidence)))]);
        foreach (var chain in open) DropIfDrawnOver(chain, edges, closed, graph, gapTolerance, open, sourceName, notes);
        for (var i = 0; i < edges.Count; i++)
        {
            if (walked[i]) continue;
            var chain = Walk(new(i, 0), graph, walked);
            // A curve both ends of which weld to each other is no loop of at least two curves.
            if (chain.Count < 2)
                throw new InputException(sourceName, $"line {edges[i].Line}", $"a curve on layer {edges[i].Layer} ends where it begins, within the gap tolerance. Draw it as a circle, or use a smaller gap.");
            var path = new PlanPath([.. chain.Select(end => Vertex(end, edges, graph))], true);
            loops.Add(new(edges[i].Layer, path, edges[i].Line));
        }

        var single = DropTwins([.. loops.OrderBy(l => l.Line)], scale.Coincidence, sourceName, notes);
        return new([.. single.Select(l => l.Path)], [.. notes]);
    }

    private static PlanVertex Vertex(EdgeEnd end, List<ChainEdge> edges, EdgeGraph graph) =>
        new(graph.Position(end), end.Side == 0 ? edges[end.Edge].Shape.Bulge : -edges[end.Edge].Shape.Bulge);

    // The ends by which the chain enters its edges, in order.
    private static List<EdgeEnd> Walk(EdgeEnd start, EdgeGraph graph, bool[] walked)
    {
        var chain = new List<EdgeEnd>();
        for (EdgeEnd? end = start; end is { } e && !walked[e.Edge]; end = graph.Partner(e.Other()))
        {
            walked[e.Edge] = true;
            chain.Add(e);
        }

        return chain;
    }

    private static List<List<EdgeEnd>> OpenChains(List<ChainEdge> edges, EdgeGraph graph, bool[] walked)
    {
        var chains = new List<List<EdgeEnd>>();
        for (var i = 0; i < edges.Count; i++)
            for (var side = 0; side < 2; side++)
                if (!walked[i] && graph.Partner(new(i, side)) is null) chains.Add(Walk(new(i, side), graph, walked));
        return chains;
    }

    // A line drawn once more over the side of a closed curve does no harm; any other open chain is an outline that fails.
    private static void DropIfDrawnOver(List<EdgeEnd> chain, List<ChainEdge> edges, Lazy<List<(DxfCurve Loop, SegmentIndex Sides)>> closed,
        EdgeGraph graph, double gapTolerance, List<List<EdgeEnd>> open, string source, List<ReadNote> notes)
    {
        var first = edges[chain[0].Edge];
        var over = closed.Value.Find(l => chain.TrueForAll(end => l.Sides.Holds(edges[end.Edge].Shape, edges[end.Edge].Middle))).Loop;
        if (over is null) throw OpenEnd(chain, edges, graph, gapTolerance, open, source);
        notes.Add(new(source, first.Line, $"The curve from {Say.At(first.Shape.Start)} (layer {first.Layer}) is drawn over the closed curve of line {over.Line}; it is dropped."));
    }

    private static InputException OpenEnd(List<EdgeEnd> chain, List<ChainEdge> edges, EdgeGraph graph, double gapTolerance, List<List<EdgeEnd>> open, string source)
    {
        var ends = open.SelectMany(c => new[] { c[0], c[^1].Other() }).ToList();
        var (loneEnd, edge) = (chain[^1].Other(), edges[chain[^1].Edge]);
        var at = graph.Position(loneEnd);
        var nearest = ends.Where(e => e != loneEnd).MinBy(e => Vec2.Distance(graph.Position(e), at));
        var gap = Vec2.Distance(graph.Position(nearest), at);
        var junction = edges.Count(e => e.Nodes.Contains(edge.Nodes[loneEnd.Side])) > 1;
        var what = junction
            ? $"a curve of layer {edge.Layer} ends at {Say.At(at)} on an outline that is closed without it"
            : $"the outline is open at {Say.At(at)} (layer {edge.Layer})";
        return new(source, $"line {edge.Line}",
            $"{what}; the nearest other open end is {Say.At(graph.Position(nearest))} (layer {edges[nearest.Edge].Layer}, line {edges[nearest.Edge].Line}), {Say.Length(gap)} away, "
            + $"and gaps up to {Say.Length(gapTolerance)} are closed. {ends.Count} ends are open in all. Close the outline in the drawing, or move what is no outline to another layer.");
    }

    private static DxfCurve? Tidy(DxfCurve curve, double coincidence, string source, List<ReadNote> notes)
    {
        var path = curve.Path;
        var kept = ImmutableArray.CreateBuilder<PlanVertex>();
        for (var i = 0; i < path.SegmentCount; i++)
        {
            var segment = path.Segment(i);
            var isNothing = Vec2.Distance(segment.Start, segment.End) <= coincidence && !(Math.Abs(segment.Bulge) > 1 && segment.Length > coincidence);
            if (!isNothing) kept.Add(path.Vertices[i]);
        }

        if (kept.Count < path.Vertices.Length)
            notes.Add(new(source, curve.Line, $"{path.Vertices.Length - kept.Count} pieces of length zero in the closed curve (layer {curve.Layer}) are dropped."));
        var enclosesNothing = kept.Count < 2 || (kept.Count == 2 && kept[0].Bulge == -kept[1].Bulge);
        if (!enclosesNothing) return kept.Count == path.Vertices.Length ? curve : curve with { Path = new(kept.ToImmutable(), true) };
        notes.Add(new(source, curve.Line, $"The closed curve at {Say.At(path.Vertices[0].Point)} (layer {curve.Layer}) encloses nothing; it is dropped."));
        return null;
    }

    private static List<DxfCurve> DropTwins(List<DxfCurve> loops, double coincidence, string source, List<ReadNote> notes)
    {
        var dropped = LoopTwins.Find([.. loops.Select(l => l.Path)], 10 * coincidence);
        foreach (var (twin, of) in dropped)
            notes.Add(new(source, loops[twin].Line, $"The closed curve at {Say.At(loops[twin].Path.Vertices[0].Point)} (layer {loops[twin].Layer}) is drawn twice (line {loops[of].Line}); one of the two is dropped."));
        return [.. loops.Where((_, i) => !dropped.ContainsKey(i))];
    }
}
