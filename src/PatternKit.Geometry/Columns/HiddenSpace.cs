using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>From where space is hidden by the body.</summary>
public enum HiddenSide
{
    /// <summary>Above the plane, with the body over it.</summary>
    FromAbove,

    /// <summary>Below the plane, with the body under it.</summary>
    FromBelow,
}

/// <summary>A connected piece of hidden space on one side of the plane.</summary>
/// <param name="Side">Above the plane and hidden from above, or below it and hidden from below.</param>
/// <param name="Volume_mm3">Its volume.</param>
/// <param name="OpenAcross_mm3">The part of it in columns that lie wholly on this side, so that the way from the plane is free: what stands on the other side could fill it.</param>
/// <param name="Depth_mm">Its greatest length along the direction in one column.</param>
/// <param name="Place">In space, the middle of that column's piece (the first of equals).</param>
/// <param name="PlanLow">Least plan coordinates of its cells, in the frame of the columns.</param>
/// <param name="PlanHigh">Greatest plan coordinates.</param>
/// <param name="Range">Lowest and highest point along the direction.</param>
public sealed record HiddenRegion(
    HiddenSide Side, double Volume_mm3, double OpenAcross_mm3, double Depth_mm, Vec3 Place, Vec2 PlanLow, Vec2 PlanHigh, ColumnInterval Range)
{
    /// <summary>Whether it lies beside a column without anything solid, so that it is open sideways and no pocket.</summary>
    public bool IsOpenSideways { get; init; }

    /// <summary>What it is made of, by cells ascending and upward.</summary>
    public ImmutableArray<HiddenPiece> Pieces { get; init; } = [];
}

/// <summary>What a region has in one column.</summary>
/// <param name="Cell">Row times columns of the grid plus column.</param>
/// <param name="Low">Lower end, mm.</param>
/// <param name="High">Upper end.</param>
public readonly record struct HiddenPiece(int Cell, double Low, double High);

/// <summary>The regions of hidden space at one height of the plane.</summary>
/// <param name="Regions">Those of some size, the largest first.</param>
/// <param name="SmallCount">How many smaller ones were left out.</param>
/// <param name="Small_mm3">Their volume together.</param>
public sealed record HiddenRegions(ImmutableArray<HiddenRegion> Regions, int SmallCount, double Small_mm3);

/// <summary>
/// What must be added to a body so that, cut by a plane square to the direction, the upper part is seen whole from above and the
/// lower part whole from below: then every column is solid from the plane, or from beyond it, to its ends.
/// <para>
/// Gaps between the intervals of a column have the body above and below them, so they are hidden wherever the plane is (∫ (U − L) − volume
/// of the body, with the upper and lower envelope U and L; none when every line meets the body in one piece: Ahn et al. 2002). Columns that do not
/// reach the plane leave a space up to it, see <see cref="ReachCost"/>. The sum, as a function of the plane's height, is exact for the columns sampled.
/// </para>
/// Immutable.
/// </summary>
public sealed class HiddenSpace
{
    /// <summary>Of a face that lies in the plane rounding leaves less than this part of the whole length on a side; it must not join what it lies between.</summary>
    private const double Nothing = 1e-9;

    private readonly MeshColumns columns;

    private HiddenSpace(MeshColumns columns, double gaps, double shadow, ReachCost reach) =>
        (this.columns, Gaps_mm3, Shadow_mm2, Reach) = (columns, gaps, shadow, reach);

    /// <summary>Volume between the intervals of columns.</summary>
    public double Gaps_mm3 { get; }

    /// <summary>Plan area of all columns with something solid.</summary>
    public double Shadow_mm2 { get; }

    /// <summary>What the columns lack to reach a height.</summary>
    public ReachCost Reach { get; }

    /// <summary>The least volume added over all heights of the plane, mm³; reached from <see cref="ReachCost.LeastFrom"/> to <see cref="ReachCost.LeastTo"/>.</summary>
    public double Least_mm3 => Gaps_mm3 + Reach.Least_mm3;

    /// <summary>Sums over columns.</summary>
    /// <exception cref="ArgumentException">No column meets the body: the grid is too coarse for it.</exception>
    public static HiddenSpace Of(MeshColumns columns)
    {
        var grid = columns.Grid;
        double gaps = 0;
        var ends = new List<(double Area, double Low, double High)>();
        for (var row = 0; row < grid.Rows; row++)
            for (var column = 0; column < grid.Columns; column++)
            {
                var solid = columns.At(column, row);
                if (solid.IsEmpty) continue;
                ends.Add((grid.CellArea_mm2, solid[0].Low, solid[^1].High));
                for (var i = 1; i < solid.Length; i++) gaps += solid[i].Low - solid[i - 1].High;
            }

        return new(columns, gaps * grid.CellArea_mm2, ends.Count * grid.CellArea_mm2, new(ends));
    }

    /// <summary>Volume added with the plane at a height, mm³.</summary>
    public double At(double z) => Gaps_mm3 + Reach.At(z);

    /// <summary>
    /// The hidden space as connected pieces: cells that share a side and whose hidden heights overlap belong together. Their volumes
    /// and the small ones' sum up to <see cref="At"/>.
    /// </summary>
    /// <param name="z">Height of the plane, mm.</param>
    /// <param name="small_mm3">Regions of less volume are only counted.</param>
    public HiddenRegions RegionsAt(double z, double small_mm3)
    {
        var grid = columns.Grid;
        var pieces = new List<Piece>();
        var joins = new List<(int, int)>();
        var (starts, before) = (new int[grid.Columns + 1], new int[grid.Columns + 1]);
        for (var row = 0; row < grid.Rows; row++)
        {
            (starts, before) = (before, starts);
            for (var column = 0; column < grid.Columns; column++)
            {
                starts[column] = pieces.Count;
                AddPieces(columns.At(column, row), z, Nothing * columns.Range.Length, (row * grid.Columns) + column, pieces);
                if (pieces.Count == starts[column]) continue;
                if (column > 0) Join(starts[column - 1], starts[column]);
                if (row > 0) Join(before[column], before[column + 1], starts[column]);
            }

            starts[grid.Columns] = pieces.Count;
        }

        var sets = new DisjointSets(pieces.Count);
        foreach (var (i, j) in joins) sets.Join(i, j);
        var sums = new SortedDictionary<int, RegionSum>();
        for (var i = 0; i < pieces.Count; i++)
        {
            var root = sets.Find(i);
            if (!sums.TryGetValue(root, out var sum)) sums.Add(root, sum = new(pieces[i]));
            sum.Add(pieces[i], columns);
        }

        var area = grid.CellArea_mm2;
        var large = sums.Values.Where(s => s.Length * area >= small_mm3).OrderByDescending(s => s.Length).Select(s => s.Region(columns));
        var small = sums.Values.Where(s => !(s.Length * area >= small_mm3)).ToList();
        return new([.. large], small.Count, small.Sum(s => s.Length) * area);

        // Pieces of one column ascend, all below the plane before all above it, and so does one that was begun before another ends.
        void Join(int from, int to, int own = -1)
        {
            if (own < 0) own = to;
            for (var (i, j) = (from, own); i < to && j < pieces.Count;)
            {
                var (p, q) = (pieces[i], pieces[j]);
                if (p.Side == q.Side && p.Low < q.High && q.Low < p.High) joins.Add((i, j));
                if (p.High < q.High) i++;
                else j++;
            }
        }
    }

    private static void AddPieces(ReadOnlySpan<ColumnInterval> solid, double z, double nothing, int cell, List<Piece> pieces)
    {
        if (solid.IsEmpty) return;
        if (solid[0].Low > z + nothing) pieces.Add(new(cell, HiddenSide.FromAbove, true, z, solid[0].Low));
        for (var i = 1; i < solid.Length; i++)
        {
            var (low, high) = (solid[i - 1].High, solid[i].Low);
            if (low < z - nothing) pieces.Add(new(cell, HiddenSide.FromBelow, false, low, Math.Min(high, z)));
            if (high > z + nothing) pieces.Add(new(cell, HiddenSide.FromAbove, false, Math.Max(low, z), high));
        }

        if (solid[^1].High < z - nothing) pieces.Add(new(cell, HiddenSide.FromBelow, true, solid[^1].High, z));
    }

    private readonly record struct Piece(int Cell, HiddenSide Side, bool IsOpenAcross, double Low, double High)
    {
        internal double Length => High - Low;
    }

    private sealed class RegionSum
    {
        private Piece longest;
        private double open;
        private (int Column, int Row) low = (int.MaxValue, int.MaxValue);
        private (int Column, int Row) high = (int.MinValue, int.MinValue);
        private ColumnInterval range;
        private bool openSideways;
        private readonly List<HiddenPiece> parts = [];

        internal RegionSum(Piece first) => (longest, range) = (first, new(first.Low, first.High));

        internal double Length { get; private set; }

        internal void Add(Piece p, MeshColumns columns)
        {
            var grid = columns.Grid;
            parts.Add(new(p.Cell, p.Low, p.High));
            Length += p.Length;
            if (p.IsOpenAcross) open += p.Length;
            if (p.Length > longest.Length) longest = p;
            var (row, column) = Math.DivRem(p.Cell, grid.Columns);
            low = (Math.Min(low.Column, column), Math.Min(low.Row, row));
            high = (Math.Max(high.Column, column), Math.Max(high.Row, row));
            range = new(Math.Min(range.Low, p.Low), Math.Max(range.High, p.High));
            openSideways |= IsEmpty(column - 1, row) || IsEmpty(column + 1, row) || IsEmpty(column, row - 1) || IsEmpty(column, row + 1);

            bool IsEmpty(int c, int r) => c < 0 || r < 0 || c >= grid.Columns || r >= grid.Rows || columns.At(c, r).IsEmpty;
        }

        internal HiddenRegion Region(MeshColumns columns)
        {
            var grid = columns.Grid;
            var (row, column) = Math.DivRem(longest.Cell, grid.Columns);
            var at = grid.Centre(column, row);
            return new(
                longest.Side, Length * grid.CellArea_mm2, open * grid.CellArea_mm2, longest.Length,
                columns.Frame.ToSpace(new(at.X, at.Y, (longest.Low + longest.High) / 2)),
                grid.Corner(low.Column, low.Row), grid.Corner(high.Column + 1, high.Row + 1), range)
            {
                IsOpenSideways = openSideways,
                Pieces = [.. parts],
            };
        }
    }
}
