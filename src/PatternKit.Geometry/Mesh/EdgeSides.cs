namespace PatternKit.Geometry.Mesh;

/// <summary>
/// Sides brought together by the edge that they lie on, in linear time: they are counted into the smaller of their two end numbers, of which few have
/// many, and sorted there. Edges come in the order of their end numbers, the sides of an edge in ascending order.
/// </summary>
internal static class EdgeSides
{
    /// <summary>Sorts sides by edge.</summary>
    /// <param name="sides">The sides: any numbers, ascending.</param>
    /// <param name="ends">The end numbers of a side.</param>
    /// <param name="endCount">One more than the largest end number.</param>
    /// <returns>The sides edge by edge; and where each edge begins among them, their number after the last.</returns>
    public static (int[] Sides, int[] Starts) Of(ReadOnlySpan<int> sides, Func<int, (int From, int To)> ends, int endCount)
    {
        var first = new int[endCount + 1];
        var (low, high) = (new int[sides.Length], new int[sides.Length]);
        for (var i = 0; i < sides.Length; i++)
        {
            var (from, to) = ends(sides[i]);
            (low[i], high[i]) = from < to ? (from, to) : (to, from);
            first[low[i] + 1]++;
        }

        for (var v = 0; v < endCount; v++) first[v + 1] += first[v];
        var (sorted, far) = (new int[sides.Length], new int[sides.Length]);
        var next = first.AsSpan(0, endCount).ToArray();
        for (var i = 0; i < sides.Length; i++)
        {
            var at = next[low[i]]++;
            (sorted[at], far[at]) = (sides[i], high[i]);
        }

        var starts = new List<int>(sides.Length / 2);
        for (var v = 0; v < endCount; v++)
        {
            var (begin, end) = (first[v], first[v + 1]);
            if (end - begin > Few) Array.Sort(far, sorted, begin, end - begin);
            else Insert(far, sorted, begin, end);
            for (var i = begin; i < end; i++)
            {
                if (i > begin && far[i] == far[i - 1]) continue;
                starts.Add(i);
                if (end - begin <= Few) continue;
                var last = i + 1;
                while (last < end && far[last] == far[i]) last++;
                Array.Sort(sorted, i, last - i);
            }
        }

        starts.Add(sides.Length);
        return (sorted, [.. starts]);
    }

    /// <summary>So many are sorted by insertion.</summary>
    private const int Few = 32;

    private static void Insert(int[] far, int[] sorted, int begin, int end)
    {
        for (var i = begin + 1; i < end; i++)
        {
            var (key, side, at) = (far[i], sorted[i], i);
            for (; at > begin && far[at - 1] > key; at--) (far[at], sorted[at]) = (far[at - 1], sorted[at - 1]);
            (far[at], sorted[at]) = (key, side);
        }
    }
}
