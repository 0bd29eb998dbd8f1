using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>Where the upright line through the middle of a cell passes through a facet.</summary>
/// <param name="Height">mm.</param>
/// <param name="Code">Twice the number of the cell within its band, and one more where the line leaves the body going up.</param>
internal readonly record struct RayHit(double Height, int Code);

/// <summary>
/// The facets of a mesh seen along a direction, with plan coordinates in whole steps, a power of two of which make a cell. The middles of
/// cells lie on steps, so whether a line passes through a facet is whole-number arithmetic. Lines on a side or corner count as moved
/// by an infinitesimal to the right and, by one of higher order, up (simulation of simplicity: Edelsbrunner and Mücke 1990):
/// a line meets each sheet of a closed mesh once there, as anywhere else.
/// </summary>
internal sealed class FacetRaster
{
    /// <summary>Rows of cells handled together.</summary>
    internal const int BandRows = 16;

    // Coordinates stay below 2²⁸ steps, so products of two differences below 2⁵⁷ and their sums in a long.
    private const int CoordinateBits = 28;
    private const int MostBitsInCell = 20;

    private readonly TriangleMesh mesh;
    private readonly PlanGrid grid;
    private readonly int bits;
    private readonly long half;
    private readonly int[] xs;
    private readonly int[] ys;
    private readonly double[] heights;
    private readonly int[] bandStarts;
    private readonly int[] bandFacets;

    /// <summary>Places the mesh on the grid.</summary>
    internal FacetRaster(TriangleMesh mesh, DirectionFrame frame, PlanGrid grid)
    {
        (this.mesh, this.grid) = (mesh, grid);
        var across = Math.Max(grid.Columns, grid.Rows);
        bits = Math.Min(MostBitsInCell, CoordinateBits - 1 - Math.ILogB(across));
        half = 1L << (bits - 1);
        var scale = new Vec2(Math.ScaleB(1, bits) / grid.Cell.X, Math.ScaleB(1, bits) / grid.Cell.Y);
        var n = mesh.Vertices.Length;
        (xs, ys, heights) = (new int[n], new int[n], new double[n]);
        for (var i = 0; i < n; i++)
        {
            var p = frame.FromSpace(mesh.Vertices[i]);
            xs[i] = (int)Math.Round((p.X - grid.Low.X) * scale.X);
            ys[i] = (int)Math.Round((p.Y - grid.Low.Y) * scale.Y);
            heights[i] = p.Z;
        }

        (bandStarts, bandFacets) = Bands();
    }

    /// <summary>How many bands of rows there are.</summary>
    internal int BandCount => bandStarts.Length - 1;

    /// <summary>Adds what the lines of a band pass through, in the order of the facets.</summary>
    internal void AddHits(int band, List<RayHit> hits)
    {
        var (from, to) = (band * BandRows, Math.Min(grid.Rows, (band + 1) * BandRows));
        for (var i = bandStarts[band]; i < bandStarts[band + 1]; i++)
        {
            var facet = mesh.Facets[bandFacets[i]];
            var (first, end) = Rows(facet);
            for (var row = Math.Max(first, from); row < Math.Min(end, to); row++) AddRow(facet, row, (row - from) * grid.Columns, hits);
        }
    }

    private (int[] Starts, int[] Facets) Bands()
    {
        var starts = new int[((grid.Rows + BandRows - 1) / BandRows) + 1];
        foreach (var f in mesh.Facets)
        {
            var (first, end) = Rows(f);
            if (first >= end) continue;
            for (var b = first / BandRows; b <= (end - 1) / BandRows; b++) starts[b + 1] = checked(starts[b + 1] + 1);
        }

        for (var b = 1; b < starts.Length; b++) starts[b] = checked(starts[b] + starts[b - 1]);
        var facets = new int[starts[^1]];
        var next = starts[..^1];
        for (var i = 0; i < mesh.Facets.Length; i++)
        {
            var (first, end) = Rows(mesh.Facets[i]);
            if (first >= end) continue;
            for (var b = first / BandRows; b <= (end - 1) / BandRows; b++) facets[next[b]++] = i;
        }

        return (starts, facets);
    }

    /// <summary>The rows whose middle y has y₀ ≤ y &lt; y₁ for the lowest and highest corner.</summary>
    private (int First, int End) Rows(Facet f)
    {
        var (a, b, c) = (ys[f.A], ys[f.B], ys[f.C]);
        return (Row(Math.Min(a, Math.Min(b, c))), Row(Math.Max(a, Math.Max(b, c))));

        int Row(int y) => Math.Clamp((int)((y - half + (1L << bits) - 1) >> bits), 0, grid.Rows);
    }

    private void AddRow(Facet f, int row, int cell, List<RayHit> hits)
    {
        var y = ((long)row << bits) + half;
        var (first, end) = (long.MaxValue, long.MinValue);
        Side(f.A, f.B);
        Side(f.B, f.C);
        Side(f.C, f.A);
        (first, end) = (Math.Max(first, 0), Math.Min(end, grid.Columns));
        if (first >= end) return;

        long ax = xs[f.A], ay = ys[f.A];
        long bx = xs[f.B] - ax, by = ys[f.B] - ay, cx = xs[f.C] - ax, cy = ys[f.C] - ay;
        var area = (bx * cy) - (by * cx);
        var (height, toB, toC) = (heights[f.A], (heights[f.B] - heights[f.A]) / area, (heights[f.C] - heights[f.A]) / area);
        long px = (first << bits) + half - ax, py = y - ay;
        var (weightB, weightC) = ((px * cy) - (py * cx), (bx * py) - (by * px));
        var (stepB, stepC) = (cy << bits, -(by << bits));
        var leaves = area > 0 ? 1 : 0;
        for (var k = first; k < end; k++)
        {
            hits.Add(new(height + (weightB * toB) + (weightC * toC), (2 * (cell + (int)k)) + leaves));
            weightB += stepB;
            weightC += stepC;
        }

        // Widens the range by the first column whose middle lies on or to the right of where the side crosses the row.
        void Side(int from, int to)
        {
            if (ys[from] <= y == ys[to] <= y) return;
            if (ys[from] > ys[to]) (from, to) = (to, from);
            long x0 = xs[from], y0 = ys[from], dx = xs[to] - x0, dy = ys[to] - y0;
            var column = CeilingOfQuotient(((x0 - half) * dy) + ((y - y0) * dx), dy << bits);
            (first, end) = (Math.Min(first, column), Math.Max(end, column));
        }
    }

    private static long CeilingOfQuotient(long numerator, long positive)
    {
        var quotient = numerator / positive;
        return numerator > quotient * positive ? quotient + 1 : quotient;
    }
}
