using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>
/// The filling of a bent loop whose sharpest fold is least, and among those the one with the least area (Barequet and Sharir 1995, with
/// the weight of Liepa 2003): dynamic programming over all triangulations, about n³/6 triangles looked at.
/// </summary>
internal sealed class LoopTriangulation
{
    /// <summary>Loops of more corners are not tried.</summary>
    public const int MostCorners = 128;

    private readonly Vec3[] _corners;
    private readonly Vec3[] _outside;
    private readonly Func<int, int, bool> _isTaken;
    private readonly (double Fold, double Area)[,] _cost;
    private readonly int[,] _apex;
    private readonly Vec3[,] _normal;

    private LoopTriangulation(Vec3[] corners, Vec3[] outside, Func<int, int, bool> isTaken)
    {
        var n = corners.Length;
        (_corners, _outside, _isTaken) = (corners, outside, isTaken);
        (_cost, _apex, _normal) = (new (double, double)[n, n], new int[n, n], new Vec3[n, n]);
    }

    /// <summary>Triangles as corner numbers that run round as the loop does; null where there is no filling.</summary>
    /// <param name="corners">At least three and at most <see cref="MostCorners"/> corners.</param>
    /// <param name="outside">For each corner the normal of the facet at the edge that leaves it.</param>
    /// <param name="isTaken">Whether two corners, not neighbours, are joined by an edge of the mesh, so that no cut may run there.</param>
    public static List<Facet>? Fill(Vec3[] corners, Vec3[] outside, Func<int, int, bool> isTaken) =>
        new LoopTriangulation(corners, outside, isTaken).Fill();

    private List<Facet>? Fill()
    {
        var n = _corners.Length;
        for (var span = 2; span < n; span++)
            for (var i = 0; i + span < n; i++) Choose(i, i + span);
        if (double.IsPositiveInfinity(_cost[0, n - 1].Fold)) return null;
        var facets = new List<Facet>(n - 2);
        var stack = new Stack<(int, int)>();
        stack.Push((0, n - 1));
        while (stack.TryPop(out var span))
        {
            var (i, k) = span;
            if (k - i < 2) continue;
            var m = _apex[i, k];
            facets.Add(new(i, m, k));
            stack.Push((m, k));
            stack.Push((i, m));
        }

        return facets;
    }

    private void Choose(int i, int k)
    {
        var n = _corners.Length;
        var closes = i == 0 && k == n - 1;
        _cost[i, k] = (double.PositiveInfinity, 0);
        if (!closes && _isTaken(i, k)) return;
        for (var m = i + 1; m < k; m++)
        {
            var (left, right) = (_cost[i, m], _cost[m, k]);
            if (double.IsPositiveInfinity(left.Fold) || double.IsPositiveInfinity(right.Fold)) continue;
            if (ExactPredicates.AreCollinear(_corners[i], _corners[m], _corners[k])) continue;
            var normal = Vec3.Cross(_corners[m] - _corners[i], _corners[k] - _corners[i]);
            var fold = Math.Max(Math.Max(left.Fold, right.Fold), Math.Max(Fold(normal, i, m), Fold(normal, m, k)));
            // The edge from the last corner to the first closes the loop: beyond it lies the mesh.
            if (closes) fold = Math.Max(fold, Fold(normal, _outside[n - 1]));
            var cost = (fold, left.Area + right.Area + (normal.Length / 2));
            if (cost.CompareTo(_cost[i, k]) >= 0) continue;
            (_cost[i, k], _apex[i, k], _normal[i, k]) = (cost, m, normal);
        }
    }

    private double Fold(Vec3 normal, int i, int k) => Fold(normal, k == i + 1 ? _outside[i] : _normal[i, k]);

    // 0 for two facets in one plane, 2 for two folded onto each other; a ten-millionth is no fold but rounding.
    private static double Fold(Vec3 a, Vec3 b)
    {
        var size = a.Length * b.Length;
        return size > 0 ? Math.Round(1 - (Vec3.Dot(a, b) / size), 7) : 2;
    }
}
