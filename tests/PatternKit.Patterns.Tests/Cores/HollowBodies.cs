using static System.FormattableString;

namespace PatternKit.Patterns.Tests.Cores;

/// <summary>Hollow bodies in OBJ.</summary>
internal static class HollowBodies
{
    /// <summary>A block 60 × 40 × 40 about the origin, its longest side along x, with a rectangular space in it: from x, to x, half its width, and heights from and to. Where that reaches the block's end it is open there.</summary>
    internal static string Block(double from, double to, double half, double low, double high)
    {
        // Cut at all planes of the space, so that every face is a rectangle of the grid; faces between block and space are left.
        double[] xs = [.. new[] { -30, from, to, 30 }.Distinct().Order()], ys = [.. new[] { -20, -half, half, 20 }.Distinct().Order()], zs = [.. new[] { -20, low, high, 20 }.Distinct().Order()];
        return Grid(xs, ys, zs, (x, y, z) => !(x > from && x < to && Math.Abs(y) < half && z > low && z < high));
    }

    /// <summary>The cells of a grid that are solid, told by their middles.</summary>
    internal static string Grid(double[] xs, double[] ys, double[] zs, Func<double, double, double, bool> isSolid)
    {
        var (lines, faces, numbers) = (new List<string>(), new List<string>(), new Dictionary<(int, int, int), int>());
        for (var i = 0; i + 1 < xs.Length; i++)
            for (var j = 0; j + 1 < ys.Length; j++)
                for (var k = 0; k + 1 < zs.Length; k++)
                {
                    if (!Solid(i, j, k)) continue;
                    if (!Solid(i - 1, j, k)) Face((i, j, k), (i, j, k + 1), (i, j + 1, k + 1), (i, j + 1, k));
                    if (!Solid(i + 1, j, k)) Face((i + 1, j, k), (i + 1, j + 1, k), (i + 1, j + 1, k + 1), (i + 1, j, k + 1));
                    if (!Solid(i, j - 1, k)) Face((i, j, k), (i + 1, j, k), (i + 1, j, k + 1), (i, j, k + 1));
                    if (!Solid(i, j + 1, k)) Face((i, j + 1, k), (i, j + 1, k + 1), (i + 1, j + 1, k + 1), (i + 1, j + 1, k));
                    if (!Solid(i, j, k - 1)) Face((i, j, k), (i, j + 1, k), (i + 1, j + 1, k), (i + 1, j, k));
                    if (!Solid(i, j, k + 1)) Face((i, j, k + 1), (i + 1, j, k + 1), (i + 1, j + 1, k + 1), (i, j + 1, k + 1));
                }

        return string.Join('\n', lines.Concat(faces));

        bool Solid(int i, int j, int k) =>
            i >= 0 && j >= 0 && k >= 0 && i + 1 < xs.Length && j + 1 < ys.Length && k + 1 < zs.Length && isSolid((xs[i] + xs[i + 1]) / 2, (ys[j] + ys[j + 1]) / 2, (zs[k] + zs[k + 1]) / 2);

        void Face(params (int, int, int)[] corners) => faces.Add($"f {string.Join(' ', corners.Select(Number))}");

        int Number((int I, int J, int K) at)
        {
            if (numbers.TryGetValue(at, out var known)) return known;
            lines.Add(Invariant($"v {xs[at.I]} {ys[at.J]} {zs[at.K]}"));
            return numbers[at] = lines.Count;
        }
    }

    /// <summary>A round tube whose middle line lies in the plan: its wall from the inner to the outer radius, its ends open.</summary>
    internal static string Tube(double inner, double outer, int around, IReadOnlyList<(double X, double Y, double Turn)> line)
    {
        var (lines, faces) = (new List<string>(), new List<string>());
        foreach (var (x, y, turn) in line)
            foreach (var r in new[] { inner, outer })
                for (var j = 0; j < around; j++)
                {
                    // Corners at the joint and at the crown.
                    var (s, c) = Math.SinCos(2 * Math.PI * j / around);
                    lines.Add(Invariant($"v {x - (r * c * Math.Sin(turn)):R} {y + (r * c * Math.Cos(turn)):R} {(j % (around / 2) == 0 ? 0 : r * s):R}"));
                }

        int At(int i, bool isOuter, int j) => 1 + (((2 * i) + (isOuter ? 1 : 0)) * around) + (j % around);
        for (var j = 0; j < around; j++)
        {
            for (var i = 0; i + 1 < line.Count; i++)
            {
                faces.Add($"f {At(i, true, j)} {At(i + 1, true, j)} {At(i + 1, true, j + 1)} {At(i, true, j + 1)}");
                faces.Add($"f {At(i, false, j)} {At(i, false, j + 1)} {At(i + 1, false, j + 1)} {At(i + 1, false, j)}");
            }

            var end = line.Count - 1;
            faces.Add($"f {At(0, false, j)} {At(0, true, j)} {At(0, true, j + 1)} {At(0, false, j + 1)}");
            faces.Add($"f {At(end, false, j)} {At(end, false, j + 1)} {At(end, true, j + 1)} {At(end, true, j)}");
        }

        return string.Join('\n', lines.Concat(faces));
    }

    /// <summary>A quarter of a circle with a straight piece at either end, by its middle line.</summary>
    internal static IReadOnlyList<(double X, double Y, double Turn)> Elbow(double radius, double straight, int steps) =>
    [
        (radius, -straight, Math.PI / 2), .. Enumerable.Range(0, steps + 1).Select(i => Math.PI / 2 * i / steps).Select(a => (radius * Math.Cos(a), radius * Math.Sin(a), (Math.PI / 2) + a)), (-straight, radius, Math.PI),
    ];
}
