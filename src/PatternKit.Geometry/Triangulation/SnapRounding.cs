namespace PatternKit.Geometry.Triangulation;

/// <summary>
/// Snap rounding (Hobby 1999; Guibas and Marimont 1998) of lines between lattice points. The unit squares around ends and crossings are hot;
/// a line is bent through the middle of every hot square that it passes. Afterwards lines meet at their points only, and none has left the
/// squares that it passed before. Squares are half open, as rounding half up has it, and every sign is exact.
/// </summary>
internal static class SnapRounding
{
    /// <summary>The lines with all the points at which they meet others or are bent.</summary>
    /// <param name="lines">Lines; points that are the same as the one before are left out.</param>
    public static LatticePoint[][] Noded(IReadOnlyList<LatticePoint[]> lines)
    {
        var hot = new List<LatticePoint>();
        var numbers = new Dictionary<LatticePoint, int>();
        var segments = new List<(int From, int To)>();
        var known = new Dictionary<(int, int), int>();
        // Segments of several lines that coincide are noded once.
        var walks = new List<int>[lines.Count];
        for (var i = 0; i < walks.Length; i++)
        {
            walks[i] = new(lines[i].Length);
            for (var k = 0; k < lines[i].Length; k++)
            {
                var v = Number(lines[i][k]);
                if (k > 0 && v != walks[i][^1]) Segment(walks[i][^1], v);
                if (k == 0 || v != walks[i][^1]) walks[i].Add(v);
            }
        }

        if (segments.Count == 0) return [.. walks.Select(w => w.Select(v => hot[v]).ToArray())];
        var squares = new SegmentSquares(hot, segments);
        foreach (var p in squares.Crossings()) Number(p);
        var bends = squares.Bends(hot);

        return
        [
            .. walks.Select(walk =>
            {
                var points = new List<LatticePoint>(walk.Count);
                for (var k = 0; k < walk.Count; k++)
                {
                    if (k > 0)
                    {
                        var (from, to) = (walk[k - 1], walk[k]);
                        var between = bends[known[from < to ? (from, to) : (to, from)]];
                        for (var j = 0; j < between.Length; j++) points.Add(hot[between[from < to ? j : ^(j + 1)]]);
                    }

                    points.Add(hot[walk[k]]);
                }

                return points.ToArray();
            }),
        ];

        int Number(LatticePoint p)
        {
            if (numbers.TryGetValue(p, out var v)) return v;
            numbers.Add(p, hot.Count);
            hot.Add(p);
            return hot.Count - 1;
        }

        void Segment(int a, int b)
        {
            var key = a < b ? (a, b) : (b, a);
            if (known.TryAdd(key, segments.Count)) segments.Add(key);
        }
    }
}
