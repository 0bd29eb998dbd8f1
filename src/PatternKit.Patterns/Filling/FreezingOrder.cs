using System.Collections.Immutable;
using PatternKit.Geometry.Grids;

namespace PatternKit.Patterns.Filling;

/// <summary>A section that is cut off before it is solid.</summary>
/// <param name="Ball">The largest in it.</param>
/// <param name="Modulus_mm">Of the section about it.</param>
/// <param name="Neck_mm">Modulus of the way to a thicker one, where that way is thinnest; null for the thickest.</param>
/// <param name="Cells">What hangs together with it above that thickness, in cells.</param>
internal sealed record ThickSection(InscribedBall Ball, double Modulus_mm, double? Neck_mm, double Cells);

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
    /// <param name="isIn">Which cells count: those of one casting of several; null for all.</param>
    public static ImmutableArray<ThickSection> Of(LocalThickness thickness, double prominence, Func<int, bool>? isIn = null)
    {
        var grid = thickness.Grid;
        var cells = ThickestFirst(thickness, isIn);
        var parents = new int[grid.Count];
        Array.Fill(parents, -1);
        var counts = new double[grid.Count];
        // Each set is named by the first cell of its section, which is among its thickest.
        var found = new List<(int Peak, int? Neck, double Cells)>();
        foreach (var cell in cells)
        {
            (parents[cell], counts[cell]) = (cell, grid.Part(cell));
            for (var axis = 0; axis < 3; axis++)
            {
                Join(cell, cell - grid.Stride(axis));
                Join(cell, cell + grid.Stride(axis));
            }
        }

        foreach (var root in cells.Where(c => parents[c] == c)) found.Add((root, null, counts[root]));
        // Thickness told the places; what they and their necks freeze by is their modulus.
        return
        [
            .. found.Select(f =>
            {
                // The peak by the section least cooled from the side, in the middle where several are as good; the neck by the one most.
                var peaks = Sections(thickness, f.Peak, AsThick(thickness, f.Peak)).ToArray();
                var (ball, modulus) = peaks[0].Modulus_mm >= Alike * peaks.Max(s => s.Modulus_mm) ? peaks[0] : peaks.MaxBy(s => s.Modulus_mm);
                double? neck = f.Neck is { } n ? Sections(thickness, n, null).Min(s => s.Modulus_mm) : null;
                return new ThickSection(ball, modulus, neck, f.Cells);
            }).Where(s => s.Neck_mm is not { } neck || s.Modulus_mm * s.Modulus_mm >= prominence * neck * neck).OrderByDescending(s => s.Modulus_mm),
        ];

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
            if (peak * peak >= prominence * neck * neck) found.Add((b, cell, counts[b]));
            parents[b] = a;
            counts[a] += counts[b];
        }
    }

    private static int[] ThickestFirst(LocalThickness thickness, Func<int, bool>? isIn)
    {
        var keys = new List<ulong>(thickness.Grid.SolidCount);
        // Bits of positive numbers are in their order; equal ones go by the number of the cell.
        for (var cell = 0; cell < thickness.Grid.Count; cell++)
            if (thickness.Grid.IsSolid(cell) && isIn?.Invoke(cell) != false) keys.Add(((ulong)~BitConverter.SingleToUInt32Bits((float)thickness.At_mm(cell)) << 32) | (uint)cell);
        keys.Sort();
        return [.. keys.Select(k => (int)(uint)k)];
    }

    /// <summary>Cells about as thick as one, as they hang together with it.</summary>
    private static HashSet<int> AsThick(LocalThickness thickness, int cell)
    {
        var (grid, least) = (thickness.Grid, Alike * thickness.At_mm(cell));
        HashSet<int> found = [cell];
        var next = new Queue<int>([cell]);
        while (next.TryDequeue(out var from))
        {
            for (var axis = 0; axis < 3; axis++)
            {
                foreach (var other in new[] { from - grid.Stride(axis), from + grid.Stride(axis) })
                    if (grid.IsSolid(other) && thickness.At_mm(other) >= least && found.Add(other)) next.Enqueue(other);
            }
        }

        return found;
    }

    /// <summary>Sections about balls of the size of the largest over a cell: in some cells, or near it; the one in the middle of them first.</summary>
    private static IEnumerable<(InscribedBall Ball, double Modulus_mm)> Sections(LocalThickness thickness, int cell, HashSet<int>? within)
    {
        var (grid, most) = (thickness.Grid, 1.0001 * thickness.At_mm(cell) / (2 * thickness.Grid.Cell_mm));
        var (x, y, z) = grid.Split(cell);
        var here = new Geometry.Numerics.Vec3(x, y, z);
        var balls = thickness.Balls.SkipWhile(b => b.Radius > most).TakeWhile(b => b.Radius >= Alike * most)
            .Where(b => within?.Contains(grid.CellAt(b.Middle)) ?? (b.Middle - here).Length <= 2 * b.Radius).ToArray();
        if (balls.Length == 0) return [(new(here, most, default), thickness.At_mm(cell) / 2)];
        var tries = Math.Min(Tries, balls.Length);
        var middle = (1.0 / balls.Length) * balls.Aggregate(default(Geometry.Numerics.Vec3), (sum, b) => sum + b.Middle);
        return Enumerable.Range(0, tries).Select(i => balls[(int)((i + 0.5) * balls.Length / tries)]).Prepend(balls.MinBy(b => (b.Middle - middle).Length)).Select(b => (b, SectionModulus.At_mm(grid, b)));
    }
}
