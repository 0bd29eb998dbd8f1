using NetTopologySuite.Algorithm;
using NetTopologySuite.Geometries;

namespace PatternKit.Geometry.Columns;

/// <summary>
/// The bounded faces of noded linework. Around every point the pieces are sorted by direction, which gives every side of a piece the next one of its face
/// (the doubly connected edge list: Muller and Preparata 1978). Coordinates are multiples of one power of two, at most 2²⁵ of it, so that no sign is ever wrong.
/// </summary>
internal sealed class PlanFaces
{
    private static readonly GeometryFactory Factory = new();

    private readonly List<Coordinate> points = [];
    private readonly int[] origin;
    private readonly int[] next;
    private readonly int[] cycle;
    private readonly int[] faceOfCycle;
    private readonly int[] place;

    private PlanFaces(IReadOnlyList<(Coordinate A, Coordinate B)> linework)
    {
        origin = new int[2 * linework.Count];
        var numbers = new Dictionary<(double, double), int>(linework.Count);
        for (var i = 0; i < linework.Count; i++)
        {
            origin[2 * i] = Number(linework[i].A);
            origin[(2 * i) + 1] = Number(linework[i].B);
        }

        next = new int[origin.Length];
        cycle = new int[origin.Length];
        var isAlive = new bool[linework.Count];
        Array.Fill(isAlive, true);
        var firsts = Cycles(isAlive);
        var bridges = false;
        for (var i = 0; i < isAlive.Length; i++)
        {
            // A piece with one face on both sides is no border of it; without those, none is left that has.
            if (cycle[2 * i] != cycle[(2 * i) + 1]) continue;
            (isAlive[i], bridges) = (false, true);
        }

        if (bridges) firsts = Cycles(isAlive);
        (Polygons, faceOfCycle, place) = Bounded(firsts);

        int Number(Coordinate p)
        {
            if (numbers.TryGetValue((p.X, p.Y), out var v)) return v;
            numbers.Add((p.X, p.Y), points.Count);
            points.Add(p);
            return points.Count - 1;
        }
    }

    /// <summary>The faces, canonical and in ascending order.</summary>
    public Polygon[] Polygons { get; }

    /// <summary>Finds the faces.</summary>
    /// <param name="linework">Pieces that meet at their ends only, none twice and none of no length.</param>
    public static PlanFaces Of(IReadOnlyList<(Coordinate A, Coordinate B)> linework) => new(linework);

    /// <summary>
    /// The faces left and right of a piece on its way from A to B, <see cref="Border.Outside"/> for none; for both where it has the same on both sides and is no border.
    /// </summary>
    public (int Left, int Right) Beside(int piece) => (Face(2 * piece), Face((2 * piece) + 1));

    private int Face(int side) => cycle[side] >= 0 && faceOfCycle[cycle[side]] is var f and >= 0 ? place[f] : Border.Outside;

    /// <summary>Links the sides that have the same face on their left, and numbers the cycles that they make.</summary>
    /// <returns>A side of each cycle.</returns>
    private List<int> Cycles(bool[] isAlive)
    {
        var first = new int[points.Count + 1];
        for (var h = 0; h < origin.Length; h++)
            if (isAlive[h / 2]) first[origin[h] + 1]++;
        for (var v = 0; v < points.Count; v++) first[v + 1] += first[v];
        var around = new int[first[^1]];
        var free = first[..^1];
        for (var h = 0; h < origin.Length; h++)
            if (isAlive[h / 2]) around[free[origin[h]]++] = h;

        for (var v = 0; v < points.Count; v++)
        {
            var fan = around.AsSpan(first[v]..first[v + 1]);
            if (fan.Length > 1) fan.Sort(ByDirection);
            // Into the point along the twin of a side, and on along the side just clockwise of it.
            for (var i = 0; i < fan.Length; i++) next[fan[i] ^ 1] = fan[i == 0 ? ^1 : i - 1];
        }

        Array.Fill(cycle, -1);
        var firsts = new List<int>();
        for (var h = 0; h < origin.Length; h++)
        {
            if (cycle[h] >= 0 || !isAlive[h / 2]) continue;
            for (var g = h; cycle[g] < 0; g = next[g]) cycle[g] = firsts.Count;
            firsts.Add(h);
        }

        return firsts;
    }

    /// <summary>Which of two sides that start at one point comes first, counter-clockwise from downwards.</summary>
    private int ByDirection(int g, int h)
    {
        var ((x, y), (u, v)) = (Along(g), Along(h));
        var (rightG, rightH) = (x > 0 || (x == 0 && y < 0), u > 0 || (u == 0 && v < 0));
        return rightG != rightH ? (rightG ? -1 : 1) : -Math.Sign((x * v) - (y * u));
    }

    private (double X, double Y) Along(int h)
    {
        var (from, to) = (points[origin[h]], points[origin[h ^ 1]]);
        return (to.X - from.X, to.Y - from.Y);
    }

    private (Polygon[] Polygons, int[] FaceOfCycle, int[] Place) Bounded(List<int> firsts)
    {
        var loops = firsts.Select(Loops).ToArray();
        var shells = new List<LinearRing>();
        var holes = new List<List<LinearRing>>();
        var faceOf = new int[firsts.Count];
        for (var c = 0; c < loops.Length; c++)
        {
            var shell = loops[c].FindIndex(TurnsLeft);
            faceOf[c] = shell < 0 ? Border.Outside : shells.Count;
            if (shell < 0) continue;
            shells.Add(Ring(loops[c][shell]));
            holes.Add([.. loops[c].Where((_, i) => i != shell).Select(Ring)]);
        }

        // What has no shell of its own lies outside of everything or in a face of pieces that it does not touch: the smallest around it.
        var areas = shells.Select(s => Area.OfRing(s.CoordinateSequence)).ToArray();
        for (var c = 0; c < loops.Length; c++)
        {
            if (faceOf[c] >= 0) continue;
            var at = points[origin[loops[c][0][0]]];
            var around = Border.Outside;
            for (var s = 0; s < shells.Count; s++)
            {
                if (around >= 0 && areas[s] >= areas[around]) continue;
                if (!shells[s].EnvelopeInternal.Contains(at) || RayCrossingCounter.LocatePointInRing(at, shells[s].CoordinateSequence) != Location.Interior) continue;
                around = s;
            }

            if (around < 0) continue;
            faceOf[c] = around;
            holes[around].AddRange(loops[c].Select(Ring));
        }

        var polygons = shells.Select((s, i) => Factory.CreatePolygon(s, [.. holes[i]])).ToArray();
        foreach (var p in polygons) p.Normalize();
        var order = Enumerable.Range(0, polygons.Length).ToArray();
        Array.Sort(order, (i, j) => polygons[i].CompareTo(polygons[j]));
        var place = new int[order.Length];
        for (var i = 0; i < order.Length; i++) place[order[i]] = i;
        return ([.. order.Select(i => polygons[i])], faceOf, place);
    }

    /// <summary>A cycle as loops that come to no point twice: one around its face, if it has one, and one around each hole, whatever touches at points.</summary>
    private List<List<int>> Loops(int start)
    {
        var loops = new List<List<int>>();
        var path = new List<int>();
        var places = new Dictionary<int, int>();
        var h = start;
        do
        {
            if (places.TryGetValue(origin[h], out var since)) Cut(since);
            places.Add(origin[h], path.Count);
            path.Add(h);
            h = next[h];
        }
        while (h != start);
        loops.Add(path);
        return loops;

        void Cut(int since)
        {
            var loop = path[since..];
            loops.Add(loop);
            foreach (var g in loop) places.Remove(origin[g]);
            path.RemoveRange(since, loop.Count);
        }
    }

    /// <summary>Whether a loop runs counter-clockwise: it does if it turns left at its first corner in x, then y.</summary>
    private bool TurnsLeft(List<int> loop)
    {
        var k = 0;
        for (var i = 1; i < loop.Count; i++)
            if (points[origin[loop[i]]].CompareTo(points[origin[loop[k]]]) < 0) k = i;
        var ((x, y), (u, v)) = (Along(loop[(k + loop.Count - 1) % loop.Count]), Along(loop[k]));
        return (x * v) - (y * u) > 0;
    }

    private LinearRing Ring(List<int> loop)
    {
        var corners = new Coordinate[loop.Count + 1];
        for (var i = 0; i < loop.Count; i++) corners[i] = points[origin[loop[i]]].Copy();
        corners[^1] = corners[0].Copy();
        return Factory.CreateLinearRing(corners);
    }
}
