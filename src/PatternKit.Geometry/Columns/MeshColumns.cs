using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>Heights between two surfaces of a body in one column, mm.</summary>
public readonly record struct ColumnInterval(double Low, double High)
{
    /// <summary>High less low.</summary>
    public double Length => High - Low;
}

/// <summary>
/// A closed mesh as the solid intervals of columns on a regular grid square to a direction, each read on the line through the middle of
/// its cell (a layered depth image: Shade et al. 1998). Plan coordinates are rounded to 2⁻²⁰ of a cell, or with many cells to about 2⁻²⁸ of
/// the whole width; heights are not, and every line leaves the body as often as it enters it.
/// <para>
/// Where shells overlap the column is solid once. A volume summed over columns differs from that of the body by at most √2 · spacing · area of
/// its skin, to first order: at each height the cells that the outline passes lie within half a diagonal of it. Commonly it
/// is far nearer, except where long straight edges inside the body's box run along the rows: there the error is the same part of a cell all the way.
/// </para>
/// Immutable.
/// </summary>
public sealed class MeshColumns
{
    private readonly Band[] bands;

    private MeshColumns(DirectionFrame frame, PlanGrid grid, ColumnInterval range, Band[] bands)
    {
        (Frame, Grid, Range, this.bands) = (frame, grid, range, bands);
        double length = 0;
        for (var row = 0; row < grid.Rows; row++)
        {
            double inRow = 0;
            for (var column = 0; column < grid.Columns; column++)
                foreach (var interval in At(column, row)) inRow += interval.Length;
            length += inRow;
        }

        Volume_mm3 = length * grid.CellArea_mm2;
    }

    /// <summary>Plan and height of the columns.</summary>
    public DirectionFrame Frame { get; }

    /// <summary>The cells, in the plan of <see cref="Frame"/>.</summary>
    public PlanGrid Grid { get; }

    /// <summary>Lowest and highest vertex of the mesh along the direction.</summary>
    public ColumnInterval Range { get; }

    /// <summary>Solid volume of the columns, mm³.</summary>
    public double Volume_mm3 { get; }

    /// <summary>Where a column is solid: ascending, not touching, none empty.</summary>
    public ReadOnlySpan<ColumnInterval> At(int column, int row)
    {
        var band = bands[row / FacetRaster.BandRows];
        var cell = ((row % FacetRaster.BandRows) * Grid.Columns) + column;
        return band.Intervals.AsSpan(band.Starts[cell]..band.Starts[cell + 1]);
    }

    /// <summary>Reads the columns of a mesh. Time grows with facets plus intervals; rows are read in parallel, with the same result.</summary>
    /// <param name="mesh">Closed and facing outward.</param>
    /// <param name="direction">Along the columns, of any length.</param>
    /// <param name="spacing">Longest side of a cell, mm.</param>
    /// <exception cref="ArgumentException">
    /// The mesh is empty or has a vertex that is not finite; a line leaves it not as often as it enters it, or leaves it before it enters:
    /// the mesh is open, or faces inward.
    /// </exception>
    /// <exception cref="ArgumentOutOfRangeException">The spacing is not positive, or far too small.</exception>
    public static MeshColumns Cast(TriangleMesh mesh, Vec3 direction, double spacing)
    {
        if (mesh.Facets.IsEmpty) throw new ArgumentException("A mesh without facets has no columns.", nameof(mesh));
        var frame = DirectionFrame.Along(direction);
        var box = Box3.Empty;
        foreach (var v in mesh.Vertices)
        {
            if (!v.IsFinite) throw new ArgumentException("A vertex of the mesh is not finite.", nameof(mesh));
            box = box.With(frame.FromSpace(v));
        }

        var grid = PlanGrid.Over(box, spacing);
        var raster = new FacetRaster(mesh, frame, grid);
        var bands = new Band[raster.BandCount];
        var sound = new bool[bands.Length];
        Parallel.For(
            0, bands.Length, () => new List<RayHit>(), (b, _, hits) =>
            {
                hits.Clear();
                raster.AddHits(b, hits);
                var rows = Math.Min(FacetRaster.BandRows, grid.Rows - (b * FacetRaster.BandRows));
                (bands[b], sound[b]) = Band.Of(hits, rows * grid.Columns);
                return hits;
            },
            _ => { });
        if (!sound.All(s => s)) throw new ArgumentException("A line enters the mesh more or less often than it leaves it: the mesh is not closed, or its facets do not agree.", nameof(mesh));
        var columns = new MeshColumns(frame, grid, new(box.Low.Z, box.High.Z), bands);
        if (columns.Volume_mm3 == 0 && mesh.Volume() < 0) throw new ArgumentException("The mesh faces inward.", nameof(mesh));
        return columns;
    }

    /// <summary>The same columns with heights counted from a surface, read in the middle of each cell.</summary>
    /// <param name="surface">Its height over a place of the plan of <see cref="Frame"/>.</param>
    public MeshColumns From(Func<Vec2, double> surface)
    {
        var moved = new Band[bands.Length];
        Parallel.For(0, bands.Length, b =>
        {
            var intervals = new ColumnInterval[bands[b].Intervals.Length];
            for (var cell = 0; cell + 1 < bands[b].Starts.Length; cell++)
            {
                if (bands[b].Starts[cell] == bands[b].Starts[cell + 1]) continue;
                var (row, column) = Math.DivRem(cell, Grid.Columns);
                var by = surface(Grid.Centre(column, (b * FacetRaster.BandRows) + row));
                for (var i = bands[b].Starts[cell]; i < bands[b].Starts[cell + 1]; i++) intervals[i] = new(bands[b].Intervals[i].Low - by, bands[b].Intervals[i].High - by);
            }

            moved[b] = new(bands[b].Starts, intervals);
        });
        return new(Frame, Grid, Range, moved);
    }

    /// <summary>Some rows of cells: the intervals of cell i are those from Starts[i] to Starts[i + 1].</summary>
    private readonly record struct Band(int[] Starts, ColumnInterval[] Intervals)
    {
        internal static (Band Band, bool IsSound) Of(List<RayHit> hits, int cells)
        {
            var starts = new int[cells + 1];
            foreach (var h in hits) starts[(h.Code >> 1) + 1]++;
            for (var c = 0; c < cells; c++) starts[c + 1] += starts[c];
            var sorted = new RayHit[hits.Count];
            var next = starts[..^1];
            foreach (var h in hits) sorted[next[h.Code >> 1]++] = h;

            var intervals = new List<ColumnInterval>(hits.Count / 2);
            var ends = new int[cells + 1];
            var isSound = true;
            for (var c = 0; c < cells; c++)
            {
                isSound &= AddIntervals(sorted.AsSpan(starts[c]..starts[c + 1]), intervals);
                ends[c + 1] = intervals.Count;
            }

            return (new(ends, [.. intervals]), isSound);
        }

        /// <summary>Solid is where the line has entered more often than left. Tells whether the two are as many.</summary>
        private static bool AddIntervals(Span<RayHit> hits, List<ColumnInterval> intervals)
        {
            // At one height entering comes first, so what touches is joined.
            hits.Sort(static (p, q) => p.Height != q.Height ? p.Height.CompareTo(q.Height) : p.Code.CompareTo(q.Code));
            var (inside, low) = (0, 0.0);
            foreach (var h in hits)
            {
                if ((h.Code & 1) == 0)
                {
                    if (++inside == 1) low = h.Height;
                }
                else if (--inside == 0 && h.Height > low) intervals.Add(new(low, h.Height));
            }

            return inside == 0;
        }
    }
}
