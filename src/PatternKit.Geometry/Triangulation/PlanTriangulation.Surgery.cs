using static PatternKit.Geometry.Triangulation.LatticePredicates;

namespace PatternKit.Geometry.Triangulation;

/// <content>The local changes: locating, splitting, flipping, forcing segments in.</content>
public sealed partial class PlanTriangulation
{
    private int AddPoint(LatticePoint p)
    {
        var v = points.Count;
        points.Add(p);
        edgeFrom.Add(None);
        byPoint.Add(p, v);
        return v;
    }

    private int AddTriangle(int a, int b, int c)
    {
        var t = origin.Count / 3;
        // One by one: a range of three is an array each time.
        origin.Add(a);
        origin.Add(b);
        origin.Add(c);
        for (var h = 0; h < 3; h++)
        {
            twin.Add(None);
            constrained.Add(false);
        }

        Settle(t);
        return t;
    }

    /// <summary>After the corners of a triangle changed: keeps one half-edge per point, tells the listener.</summary>
    private void Settle(int t)
    {
        for (var h = 3 * t; h < (3 * t) + 3; h++) edgeFrom[origin[h]] = h;
        lastTriangle = t;
        Changed?.Invoke(t);
    }

    private void Link(int h, int g)
    {
        twin[h] = g;
        if (g != None) twin[g] = h;
    }

    private void LinkOuter(int h, int g, bool fixedEdge)
    {
        Link(h, g);
        constrained[h] = fixedEdge;
    }

    private long Side(int h, LatticePoint p) => Orient(points[origin[h]], points[origin[Next(h)]], p);

    /// <summary>
    /// Walks towards the point (Devillers, Pion, Teillaud 2002, remembering stochastic walk) and tells on which edge it lies, if any. Which side is tried first is drawn by lot:
    /// among triangles that are not Delaunay, as beside edges forced in, a fixed order may walk around the point for ever.
    /// </summary>
    private (int Triangle, int OnEdge) Locate(LatticePoint p, int start)
    {
        var t = start;
        var from = None;
        var lot = 1u;
        while (true)
        {
            var onEdge = None;
            var moved = false;
            // Same points, same walk: the lots are numbers of a fixed row (Press et al., Numerical Recipes, 1992, 7.1, the quick and dirty generator).
            lot = (1664525 * lot) + 1013904223;
            var first = (int)((lot >> 16) % 3);
            for (var i = 0; i < 3; i++)
            {
                var h = (3 * t) + ((i + first) % 3);
                if (h == from) continue;
                var side = Side(h, p);
                if (side < 0)
                {
                    if (twin[h] == None) throw new ArgumentOutOfRangeException(nameof(p), "The point is outside the triangulated rectangle.");
                    from = twin[h];
                    t = from / 3;
                    moved = true;
                    break;
                }

                if (side == 0) onEdge = h;
            }

            if (moved) continue;
            lastTriangle = t;
            return (t, onEdge);
        }
    }

    private void SplitTriangle(int t, int v)
    {
        var (h0, h1, h2) = (3 * t, (3 * t) + 1, (3 * t) + 2);
        var (a, b, c) = (origin[h0], origin[h1], origin[h2]);
        var (n1, n2) = (twin[h1], twin[h2]);
        var (c1, c2) = (constrained[h1], constrained[h2]);
        var t1 = AddTriangle(b, c, v);
        var t2 = AddTriangle(c, a, v);
        LinkOuter(3 * t1, n1, c1);
        LinkOuter(3 * t2, n2, c2);
        Link(h1, (3 * t1) + 2);
        Link((3 * t1) + 1, (3 * t2) + 2);
        Link((3 * t2) + 1, h2);
        constrained[h1] = constrained[h2] = false;
        origin[h2] = v;
        Settle(t1);
        Settle(t2);
        Settle(t);
        suspects.Push(h0);
        suspects.Push(3 * t1);
        suspects.Push(3 * t2);
    }

    /// <summary>Splits an inner edge at a point on it or beside it; −1 when the point is there already or a triangle would turn over.</summary>
    private int TrySplit(int h, LatticePoint p)
    {
        if (byPoint.ContainsKey(p) || twin[h] == None || !SplitsCleanly(h, p) || !SplitsCleanly(twin[h], p)) return None;
        var v = AddPoint(p);
        SplitEdge(h, v);
        return v;
    }

    private void SplitEdge(int h, int v)
    {
        var g = twin[h];
        var fixedEdge = constrained[h];
        var near = SplitHalf(h, v);
        if (g == None) return;
        var far = SplitHalf(g, v);
        // h now runs a→v and its new partner v→b; g runs b→v and its new partner v→a.
        LinkOuter(h, far, fixedEdge);
        LinkOuter(near, g, fixedEdge);
        constrained[far] = constrained[g] = fixedEdge;
    }

    /// <summary>Splits the triangle of h = a→b with apex c into a,v,c (in place) and v,b,c; returns the half-edge v→b.</summary>
    private int SplitHalf(int h, int v)
    {
        var (hn, hp) = (Next(h), Previous(h));
        var (b, c) = (origin[hn], origin[hp]);
        var (n, fixedNext, fixedEdge) = (twin[hn], constrained[hn], constrained[h]);
        var t = AddTriangle(v, b, c);
        LinkOuter((3 * t) + 1, n, fixedNext);
        Link((3 * t) + 2, hn);
        constrained[hn] = false;
        constrained[3 * t] = fixedEdge;
        origin[hn] = v;
        Settle(h / 3);
        Settle(t);
        suspects.Push(hp);
        suspects.Push((3 * t) + 1);
        return 3 * t;
    }

    /// <summary>Whether the triangle of h keeps two triangles that turn left when h is split at p.</summary>
    private bool SplitsCleanly(int h, LatticePoint p)
    {
        var (a, b, c) = (points[origin[h]], points[origin[Next(h)]], points[origin[Previous(h)]]);
        return Orient(a, p, c) > 0 && Orient(p, b, c) > 0;
    }

    private void Legalize(int v)
    {
        while (suspects.TryPop(out var h))
        {
            if (constrained[h] || twin[h] == None) continue;
            // The newest point is the apex of one of the two triangles.
            var g = twin[h];
            if (origin[Previous(h)] != v && origin[Previous(g)] != v) continue;
            if (!IsDelaunay(h) && IsFlippable(h))
            {
                Flip(h);
                // After the flip the two outer edges away from v are h's and g's neighbours.
                PushOuter(h, v);
                PushOuter(g, v);
            }
        }
    }

    private void PushOuter(int h, int v)
    {
        var t = h / 3;
        for (var i = 0; i < 3; i++)
        {
            var e = (3 * t) + i;
            if (origin[Previous(e)] == v) suspects.Push(e);
        }
    }

    private bool IsDelaunay(int h)
    {
        var g = twin[h];
        return InCircle(points[origin[h]], points[origin[Next(h)]], points[origin[Previous(h)]], points[origin[Previous(g)]]) <= 0;
    }

    private bool IsFlippable(int h)
    {
        var g = twin[h];
        var (a, b) = (points[origin[h]], points[origin[g]]);
        var (c, d) = (points[origin[Previous(h)]], points[origin[Previous(g)]]);
        return Orient(c, a, d) > 0 && Orient(d, b, c) > 0;
    }

    /// <summary>Replaces the diagonal a→b of the quadrilateral a, d, b, c by d→c: triangles (c, a, d) and (d, b, c).</summary>
    private void Flip(int h)
    {
        var g = twin[h];
        var (hn, hp, gn, gp) = (Next(h), Previous(h), Next(g), Previous(g));
        var (a, b, c, d) = (origin[h], origin[g], origin[hp], origin[gp]);
        var (nBc, nCa, nAd, nDb) = (twin[hn], twin[hp], twin[gn], twin[gp]);
        var (fBc, fCa, fAd, fDb) = (constrained[hn], constrained[hp], constrained[gn], constrained[gp]);
        // Triangle of h becomes d→c (h), c→a, a→d; triangle of g becomes c→d (g), d→b, b→c.
        (origin[h], origin[hn], origin[hp]) = (d, c, a);
        (origin[g], origin[gn], origin[gp]) = (c, d, b);
        LinkOuter(hn, nCa, fCa);
        LinkOuter(hp, nAd, fAd);
        LinkOuter(gn, nDb, fDb);
        LinkOuter(gp, nBc, fBc);
        Link(h, g);
        constrained[h] = constrained[g] = false;
        Settle(g / 3);
        Settle(h / 3);
    }

    /// <summary>Undoes a swap: every triangle and half-edge is as it was before.</summary>
    public void UndoFlip(int h)
    {
        var g = twin[h];
        var (hn, hp, gn, gp) = (Next(h), Previous(h), Next(g), Previous(g));
        var (a, b, c, d) = (origin[h], origin[g], origin[hp], origin[gp]);
        var (nBc, nCa, nAd, nDb) = (twin[hn], twin[hp], twin[gn], twin[gp]);
        var (fBc, fCa, fAd, fDb) = (constrained[hn], constrained[hp], constrained[gn], constrained[gp]);
        // A quarter turn the other way: triangle of h becomes c→d (h), d→b, b→c; triangle of g becomes d→c (g), c→a, a→d.
        (origin[h], origin[hn], origin[hp]) = (c, d, b);
        (origin[g], origin[gn], origin[gp]) = (d, c, a);
        LinkOuter(hn, nDb, fDb);
        LinkOuter(hp, nBc, fBc);
        LinkOuter(gn, nCa, fCa);
        LinkOuter(gp, nAd, fAd);
        Link(h, g);
        constrained[h] = constrained[g] = false;
        Settle(g / 3);
        Settle(h / 3);
    }

    private int ConstrainUpToFirstPoint(int from, int to)
    {
        var (a, b) = (points[from], points[to]);
        // Find the triangle at `from` through which the segment leaves.
        foreach (var h in Around(from).ToArray())
        {
            var right = origin[Next(h)];
            if (right == to || IsBetween(a, points[right], b))
            {
                Fix(h);
                return right;
            }

            var left = origin[Previous(h)];
            if (left == to || IsBetween(a, points[left], b))
            {
                Fix(Previous(h));
                return left;
            }

            if (Orient(a, b, points[right]) < 0 && Orient(a, b, points[left]) > 0)
                return Dig(from, to, Next(h));
        }

        throw new InvalidOperationException("A segment to force in does not start in the triangulation.");
    }

    private static bool IsBetween(LatticePoint a, LatticePoint q, LatticePoint b)
    {
        if (Orient(a, b, q) != 0) return false;
        long dx = b.X - a.X, dy = b.Y - a.Y, qx = q.X - a.X, qy = q.Y - a.Y;
        var along = (dx * qx) + (dy * qy);
        return along > 0 && along <= (dx * dx) + (dy * dy);
    }

    /// <summary>
    /// Flips the edges that the segment crosses until it is an edge itself. The segment ends at the first point on it;
    /// −1, and nothing changed, when it crosses a constrained edge.
    /// </summary>
    private int Dig(int from, int to, int firstCrossed)
    {
        var (a, b) = (points[from], points[to]);
        var end = to;
        var crossed = new Queue<(int U, int V)>();
        var h = firstCrossed;
        while (true)
        {
            if (constrained[h]) return None;
            crossed.Enqueue((origin[h], origin[Next(h)]));
            var g = twin[h];
            var apex = origin[Previous(g)];
            if (apex == to) break;
            var side = Orient(a, b, points[apex]);
            if (side == 0)
            {
                end = apex;
                break;
            }

            h = side > 0 ? Next(g) : Previous(g);
        }

        b = points[end];
        var fresh = new List<(int U, int V)>();
        while (crossed.TryDequeue(out var pair))
        {
            var e = Find(pair.U, pair.V);
            if (!IsFlippable(e))
            {
                crossed.Enqueue(pair);
                continue;
            }

            Flip(e);
            var (u, v) = (origin[e], origin[Next(e)]);
            var (su, sv) = (Math.Sign(Orient(a, b, points[u])), Math.Sign(Orient(a, b, points[v])));
            if (su * sv < 0) crossed.Enqueue((u, v));
            else fresh.Add((u, v));
        }

        Fix(Find(from, end));
        for (var changed = true; changed;)
        {
            changed = false;
            for (var i = 0; i < fresh.Count; i++)
            {
                var e = Find(fresh[i].U, fresh[i].V);
                if (e == None || constrained[e] || IsDelaunay(e) || !IsFlippable(e)) continue;
                Flip(e);
                fresh[i] = (origin[e], origin[Next(e)]);
                changed = true;
            }
        }

        return end;
    }
}
