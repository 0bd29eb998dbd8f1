using System.Collections.Immutable;
using PatternKit.Geometry.Grids;

namespace PatternKit.Patterns.Filling;

/// <summary>A section that is cut off before it is solid.</summary>
/// <param name="Ball">The largest in it.</param>
/// <param name="Modulus_mm">Of the section about it.</param>
/// <param name="Neck_mm">Thickness of the way to a thicker one; null for the thickest.</param>
/// <param name="Cells">That hang together with it above that thickness.</param>
internal sealed record ThickSection(InscribedBall Ball, double Modulus_mm, double? Neck_mm, int Cells);

/// <summary>
/// The order in which a casting freezes, by its thickness: from the thickest down, places that hang together are joined (merge tree by disjoint sets); where two sections meet, the
/// thinner one is cut off there from the thicker.
/// </summary>
internal static class FreezingOrder
{
    private const int Tries = 5;

    // Balls of a section that are this near to its largest are as good.
    private const double Alike = 0.97;

    /// <summary>The sections that are thicker than the way out of them, the thickest first.</summary>
    /// <param name="thickness">Of the casting.</param>
    /// <param name="prominence">Freezing time of a section over that of the way out, at least: both go with the square of the thickness.</param>
    public static ImmutableArray<ThickSection> Of(LocalThickness thickness, double prominence)
    {
        var grid = thickness.Grid;
        var cells = Enumerable.Range(0, grid.Count).Where(grid.IsSolid).OrderByDescending(thickness.At_mm).ToArray();
        var parents = new int[grid.Count];
        Array.Fill(parents, -1);
        var counts = new int[grid.Count];
        // Each set is named by the first cell of its section, which is among its thickest.
        var found = new List<(int Peak, double? Neck_mm, int Cells)>();
        foreach (var cell in cells)
        {
            (parents[cell], counts[cell]) = (cell, 1);
            for (var axis = 0; axis < 3; axis++)
            {
                Join(cell, cell - grid.Stride(axis));
                Join(cell, cell + grid.Stride(axis));
            }
        }

        foreach (var root in cells.Where(c => parents[c] == c)) found.Add((root, null, counts[root]));
        return [.. found.Select(f => Section(thickness, f.Peak, f.Neck_mm, f.Cells)).OrderByDescending(s => s.Modulus_mm)];

        int Find(int cell)
        {
            while (parents[cell] != cell) cell = parents[cell] = parents[parents[cell]];
            return cell;
        }

        void Join(int cell, int other)
        {
            if (parents[other] < 0) return;
            var (a, b) = (Find(cell), Find(other));
            if (a == b) return;
            if (thickness.At_mm(a) < thickness.At_mm(b)) (a, b) = (b, a);
            var (peak, neck) = (thickness.At_mm(b), thickness.At_mm(cell));
            if (peak * peak >= prominence * neck * neck) found.Add((b, neck, counts[b]));
            parents[b] = a;
            counts[a] += counts[b];
        }
    }

    private static ThickSection Section(LocalThickness thickness, int peak, double? neck_mm, int cells)
    {
        var (grid, most) = (thickness.Grid, 1.0001 * thickness.At_mm(peak) / (2 * thickness.Grid.Cell_mm));
        var (x, y, z) = grid.Split(peak);
        var here = new Geometry.Numerics.Vec3(x, y, z);
        // The largest ball over the peak, and some more of its size beside it: the one least cooled from the side tells the section.
        var balls = thickness.Balls.SkipWhile(b => b.Radius > most).TakeWhile(b => b.Radius >= Alike * most).Where(b => (b.Middle - here).Length <= 2 * b.Radius).ToArray();
        if (balls.Length == 0) return new(new(here, thickness.At_mm(peak) / (2 * grid.Cell_mm), default), thickness.At_mm(peak) / 2, neck_mm, cells);
        var best = Enumerable.Range(0, Math.Min(Tries, balls.Length)).Select(i => balls[(int)((long)i * balls.Length / Math.Min(Tries, balls.Length))])
            .Select(b => (Ball: b, Modulus: SectionModulus.At_mm(grid, b))).MaxBy(b => b.Modulus);
        return new(best.Ball, best.Modulus, neck_mm, cells);
    }
}
