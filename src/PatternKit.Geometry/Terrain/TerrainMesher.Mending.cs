using System.Runtime.InteropServices;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Terrain;

/// <content>What is mended after refinement: facets with too little draft, and facets without a sure normal.</content>
internal sealed partial class TerrainMesher
{
    /// <summary>How much of the slack of a facet is kept for rounding.</summary>
    private const double Margin = 0.5;

    /// <summary>A facet that was moved to the margin is moved again once its neighbours have left it no more than this.</summary>
    private const double LeastMargin = 0.4;

    /// <summary>A facet that so many moves did not make allowed is left: there is hardly a way.</summary>
    private const int MostMoves = 60;

    /// <summary>
    /// What is still steeper than allowed are small facets along creases, where points cannot stand exactly. First their longest side is
    /// turned, or a free point of theirs drawn into a neighbour, where that leaves less steepness; then heights are moved.
    /// </summary>
    private void MendSteepSlivers()
    {
        var suspects = new SortedSet<int>(Enumerable.Range(0, triangles.TriangleCount));
        for (var round = 0; round < 20 && suspects.Count > 0; round++)
        {
            var changed = false;
            var steep = new List<int>();
            var next = new SortedSet<int>();
            foreach (var t in suspects)
            {
                if (!IsSteep(t)) continue;
                // Whatever is done to a triangle stays among those around its corners.
                next.UnionWith(Enumerable.Range(3 * t, 3).SelectMany(h => Star(triangles.Origin(h))));
                if (TryTurnLongest(t, (before, a, b) => Excess(a, b) < 0.999 * before) || TryCollapseCorner(t)) changed = true;
                else steep.Add(t);
            }

            if (steep.Count > 0 && MoveHeights(steep) is { Length: > 0 } moved)
            {
                changed = true;
                next.UnionWith(moved.SelectMany(Star));
            }

            if (!changed) break;
            suspects = next;
        }
    }

    /// <summary>
    /// A side that facets keep to cannot be split right beside a point; the facet between point and side then stands upright over half of a surface that bends. At the end
    /// the side is split there all the same, which leaves a facet hardly wider than rounding, but as high as its neighbours.
    /// </summary>
    private void SplitKeptSidesBesidePoints()
    {
        if (keptSides.Count == 0) return;
        for (var t = 0; t < triangles.TriangleCount; t++)
        {
            if (!IsSteep(t)) continue;
            var h = Longest(t);
            var (from, to) = (triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h)));
            var (a, b, beside) = (zoned.Position(from), zoned.Position(to), zoned.Position(triangles.Origin(PlanTriangulation.Previous(h))));
            var nearest = Vec2.Nearest(beside, a, b);
            if (!IsKept(h) || zoned.Crossing(h) != 0 || Vec2.Distance(nearest, beside) > tolerance.Spacing_mm) continue;
            var foot = lattice.Snap(nearest);
            var v = triangles.SplitWithoutFlips(h, new(lattice.Index(foot.X), lattice.Index(foot.Y)));
            if (v < 0) continue;
            heights.Add(Math.Max(lattice.Snap(field.At(foot).Height), ground is null ? field.Range.Low : LeastOver(foot)));
            Keep(from, v);
            Keep(v, to);
            foreach (var d in dirty) zoned.SetZone(d, Domain);
            dirty.Clear();
        }
    }

    private int Longest(int t) =>
        Enumerable.Range(3 * t, 3).MaxBy(e => Vec2.Distance(zoned.Position(triangles.Origin(e)), zoned.Position(triangles.Origin(PlanTriangulation.Next(e)))));

    private IEnumerable<int> Star(int v) => triangles.Around(v).Select(e => e / 3);

    /// <summary>
    /// Moves the free heights around steep facets, each facet in turn by the least that makes it allowed. Facets that are allowed
    /// form a convex set of heights, so projecting on one after another converges (Bregman 1965) where there is a way.
    /// </summary>
    /// <returns>The points that moved.</returns>
    private int[] MoveHeights(List<int> steep)
    {
        var old = new Dictionary<int, double>();
        var active = new Queue<int>(steep);
        var queued = steep.ToHashSet();
        var moves = new Dictionary<int, int>();
        // Only heights of free points move, so what a facet lies on stays, and how far down a point may go.
        var (limits, lowest) = (new Dictionary<int, (double Most, double Again)>(), new Dictionary<int, double>());
        while (active.TryDequeue(out var t))
        {
            queued.Remove(t);
            if (++CollectionsMarshal.GetValueRefOrAddDefault(moves, t, out _) > MostMoves) continue;
            if (zoned.Zone(t) != Domain || !Project(t, Limits(t).Most, old, Least)) continue;
            for (var h = 3 * t; h < (3 * t) + 3; h++)
                foreach (var s in triangles.Around(triangles.Origin(h)).Select(e => e / 3))
                    if (zoned.Zone(s) == Domain && Gradient(s).Length > Limits(s).Again && queued.Add(s))
                        active.Enqueue(s);
        }

        foreach (var v in old.Keys) heights[v] = lattice.Snap(heights[v]);
        return [.. old.Where(o => heights[o.Key] != o.Value).Select(o => o.Key)];

        double Least(int v)
        {
            ref var least = ref CollectionsMarshal.GetValueRefOrAddDefault(lowest, v, out var known);
            if (!known) least = Lowest(v, old[v]);
            return least;
        }

        (double Most, double Again) Limits(int t)
        {
            ref var limit = ref CollectionsMarshal.GetValueRefOrAddDefault(limits, t, out var known);
            if (!known && field.At(Centroid(t)).Surface is var surface) limit = (field.SteepestFacet(surface, Margin), field.SteepestFacet(surface, LeastMargin));
            return limit;
        }
    }

    /// <summary>Facets whose points lie on a line but for rounding have no sure normal: their longest side is turned where that leaves none.</summary>
    private void TurnNeedles()
    {
        for (var t = 0; t < triangles.TriangleCount; t++)
            if (zoned.Zone(t) == Domain && IsNeedle(t))
                TryTurnLongest(t, (before, a, b) => !IsNeedle(a) && !IsNeedle(b) && Excess(a, b) <= Math.Max(1, before));
    }

    private bool IsNeedle(int t) => Altitude(t) <= 4 * lattice.Step;

    private double Altitude(int t) => Altitude(zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));

    /// <summary>Turns the longest side of a facet; a breakline that runs past a point within rounding, or the spacing of points, goes through it then.</summary>
    /// <param name="t">The facet.</param>
    /// <param name="isBetter">From the larger steepness of the two facets before, and the two facets, to whether it stays so.</param>
    private bool TryTurnLongest(int t, Func<double, int, int, bool> isBetter)
    {
        var h = Longest(t);
        var g = triangles.Twin(h);
        if (g < 0 || zoned.Crossing(h) != 0 || zoned.Zone(g / 3) != Domain) return false;
        // The new diagonal would lie in the joint.
        if (rim.Contains(triangles.Origin(PlanTriangulation.Previous(h))) && rim.Contains(triangles.Origin(PlanTriangulation.Previous(g)))) return false;
        var breakline = triangles.IsConstrained(h);
        if (breakline && (IsKept(h) || (!IsNeedle(t) && Altitude(t) > tolerance.Spacing_mm))) return false;
        var before = Excess(t, g / 3);
        triangles.Release(h);
        if (triangles.TryFlip(h))
        {
            if (isBetter(before, t, g / 3)) return true;
            triangles.UndoFlip(h);
        }

        if (breakline) triangles.TryConstrain(triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h)));
        return false;
    }

    private bool Project(int t, double limit, Dictionary<int, double> old, Func<int, double> least)
    {
        var gradient = Gradient(t);
        if (gradient.Length <= limit) return false;
        var along = gradient.Normalized();
        Span<double> rate = stackalloc double[3];
        var sum = 0.0;
        for (var i = 0; i < 3; i++)
        {
            if (zoned.TryHeight(triangles.Origin((3 * t) + i), out _)) continue;
            // A corner that rises by one turns the gradient by the normal of the opposite side over twice the area.
            var (a, b, c) = (zoned.Corner(t, i), zoned.Corner(t, (i + 1) % 3), zoned.Corner(t, (i + 2) % 3));
            rate[i] = Vec2.Dot(along, (c - b).Left) / Vec2.Cross(b - a, c - a);
            sum += rate[i] * rate[i];
        }

        if (sum == 0) return false;
        for (var i = 0; i < 3; i++)
        {
            if (rate[i] == 0) continue;
            var v = triangles.Origin((3 * t) + i);
            old.TryAdd(v, heights[v]);
            var z = Math.Clamp(heights[v] - ((gradient.Length - limit) * rate[i] / sum), least(v), field.Range.High);
            if (Math.Abs(z - old[v]) > tolerance.Error_mm * limit) return false;
            heights[v] = z;
        }

        return true;
    }

    /// <summary>
    /// How far down a point may be moved. Where chords of the rim have been lifted off it, the other terrain begins at the rim: at its height, or below it beside a hole in which both
    /// terrains meet above the ground, a point would lie in the other terrain or beyond.
    /// </summary>
    private double Lowest(int v, double height)
    {
        if (ground is not null) return LeastOver(zoned.Position(v));
        if (rim.Count == 0) return field.Range.Low;
        return triangles.Around(v).Select(h => triangles.Origin(PlanTriangulation.Next(h))).Where(u => rim.Contains(u) && heights[u] < height)
            .Select(u => heights[u]).Append(field.Range.Low).Max() + lattice.Step;
    }

    private bool IsSteep(int t) => zoned.Zone(t) == Domain && Gradient(t).Length > field.AlwaysAllowed && Excess(t) > 1;

    /// <summary>Steepness over the steepest allowed.</summary>
    private double Excess(int t) => Gradient(t).Length / Limit(t);

    private double Excess(int a, int b) => Math.Max(Excess(a), Excess(b));

    private double Limit(int t) => field.SteepestFacet(field.At(Centroid(t)).Surface);

    private bool TryCollapseCorner(int t)
    {
        foreach (var h in Enumerable.Range(3 * t, 3).SelectMany(e => new[] { e, triangles.Twin(e) })
            .OrderBy(e => (zoned.Position(triangles.Origin(e)) - zoned.Position(triangles.Origin(PlanTriangulation.Next(e)))).LengthSquared))
        {
            var (v, u) = (triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h)));
            if (!MayMove(v, u)) continue;
            var star = triangles.Around(v).Select(e => e / 3).ToArray();
            if (star.Any(s => zoned.Zone(s) != Domain) || JoinsRim(star, v, u)) continue;
            if (!GetsBetter(star, v, u)) continue;
            if (triangles.TryCollapse(h) is not var (first, second)) continue;
            zoned.SetZone(first, 0);
            zoned.SetZone(second, 0);
            return true;
        }

        return false;
    }

    /// <summary>Whether moving v onto u makes an inner edge or a facet whose points are all on the rim.</summary>
    private bool JoinsRim(int[] star, int v, int u)
    {
        if (!rim.Contains(u)) return false;
        foreach (var s in star)
        {
            int[] others = [.. Enumerable.Range(3 * s, 3).Select(triangles.Origin).Where(w => w != v && w != u && rim.Contains(w))];
            if (others.Length > 1 || others.Any(w => triangles.Find(u, w) < 0)) return true;
        }

        return false;
    }

    /// <summary>A point of the rim or of a line that facets keep to stays; one of a breakline may move by a few micrometres.</summary>
    private bool MayMove(int v, int u) =>
        (!zoned.TryHeight(v, out _) && !kept.Contains(v))
        || (!zoned.IsOnZoneBorder(v) && Vec2.Distance(zoned.Position(v), zoned.Position(u)) <= 3 * tolerance.Spacing_mm);

    /// <summary>
    /// Whether a star with v moved onto u has fewer steep facets or narrower ones, and stays within twice the tolerance.
    /// </summary>
    private bool GetsBetter(int[] star, int v, int u)
    {
        var (count, widest, worst) = (0, 0.0, 0.0);
        var moved = new List<(int A, int B, int C)>(star.Length);
        foreach (var s in star)
        {
            var (i, j, k) = (triangles.Origin(3 * s), triangles.Origin((3 * s) + 1), triangles.Origin((3 * s) + 2));
            if (i == u || j == u || k == u) continue;
            (i, j, k) = (i == v ? u : i, j == v ? u : j, k == v ? u : k);
            moved.Add((i, j, k));
            var (a, b, c) = (zoned.Position(i), zoned.Position(j), zoned.Position(k));
            if (Vec2.Cross(b - a, c - a) <= 0) return false;
            var steepness = Gradient(a, b, c, heights[i], heights[j], heights[k]).Length;
            if (steepness <= field.AlwaysAllowed || steepness / field.SteepestFacet(field.At((a + b + c) / 3).Surface) is not (> 1 and var excess)) continue;
            (count, widest, worst) = (count + 1, Math.Max(widest, Altitude(a, b, c)), Math.Max(worst, excess));
        }

        if (count > 0)
        {
            var (countBefore, widestBefore, worstBefore) = (0, 0.0, 0.0);
            foreach (var s in star)
            {
                if (Gradient(s).Length <= field.AlwaysAllowed || Excess(s) is not (> 1 and var excess)) continue;
                (countBefore, widestBefore, worstBefore) = (countBefore + 1, Math.Max(widestBefore, Altitude(s)), Math.Max(worstBefore, excess));
            }

            if (count > countBefore || widest > widestBefore || (count == countBefore && worst >= 0.999 * worstBefore)) return false;
        }

        // Last what takes longest.
        foreach (var (i, j, k) in moved)
        {
            var (a, b, c) = (zoned.Position(i), zoned.Position(j), zoned.Position(k));
            var gradient = Gradient(a, b, c, heights[i], heights[j], heights[k]);
            foreach (var p in (ReadOnlySpan<Vec2>)[(a + b + c) / 3, (a + b) / 2, (b + c) / 2, (c + a) / 2])
            {
                var truth = field.At(p);
                var error = (heights[i] + Vec2.Dot(gradient, p - a) - truth.Height) / Math.Sqrt(1 + Math.Max(gradient.LengthSquared, truth.Gradient.LengthSquared));
                if (Math.Abs(error) > 2 * tolerance.Error_mm) return false;
            }
        }

        return true;
    }
}
