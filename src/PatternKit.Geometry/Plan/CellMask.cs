using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>Cells of a plan grid, in or out, as a part of the plan with square borders.</summary>
internal sealed class CellMask
{
    private readonly bool[] isIn;

    /// <summary>Takes the cells.</summary>
    /// <param name="grid">The grid.</param>
    /// <param name="isIn">Row by row.</param>
    public CellMask(PlanGrid grid, bool[] isIn) => (Grid, this.isIn) = (grid, isIn);

    /// <summary>The grid.</summary>
    public PlanGrid Grid { get; }

    /// <summary>Whether no cell is in.</summary>
    public bool IsEmpty => !Array.Exists(isIn, c => c);

    /// <summary>Whether a cell is in; those beyond the grid are out.</summary>
    public bool this[int column, int row] => column >= 0 && row >= 0 && column < Grid.Columns && row < Grid.Rows && isIn[(row * Grid.Columns) + column];

    /// <summary>Whether a place lies in a cell that is in.</summary>
    public bool Contains(Vec2 p) => this[(int)Math.Floor((p.X - Grid.Low.X) / Grid.Cell.X), (int)Math.Floor((p.Y - Grid.Low.Y) / Grid.Cell.Y)];

    /// <summary>Cells in either.</summary>
    public CellMask Or(CellMask other) => new(Grid, [.. isIn.Zip(other.isIn, (a, b) => a || b)]);

    /// <summary>Cells whose middles are such.</summary>
    public CellMask Where(Func<Vec2, bool> isSuch) => new(Grid, [.. isIn.Select((a, i) => a && isSuch(Grid.Centre(i % Grid.Columns, i / Grid.Columns)))]);

    /// <summary>Cells that are not in another.</summary>
    public CellMask Without(CellMask other) => new(Grid, [.. isIn.Zip(other.isIn, (a, b) => a && !b)]);

    /// <summary>With all cells whose middles are no farther than a distance from that of one that is in, mm.</summary>
    public CellMask Grown(double by)
    {
        var grown = (bool[])isIn.Clone();
        var (across, up) = ((int)(by / Grid.Cell.X), (int)(by / Grid.Cell.Y));
        for (var row = 0; row < Grid.Rows; row++)
        {
            for (var column = 0; column < Grid.Columns; column++)
            {
                // Those inside are covered by what is grown from the border.
                if (!this[column, row] || (this[column - 1, row] && this[column + 1, row] && this[column, row - 1] && this[column, row + 1])) continue;
                for (var j = Math.Max(0, row - up); j <= Math.Min(Grid.Rows - 1, row + up); j++)
                {
                    var rest = (by * by) - ((j - row) * Grid.Cell.Y * (j - row) * Grid.Cell.Y);
                    var half = (int)(Math.Sqrt(Math.Max(0, rest)) / Grid.Cell.X);
                    var (first, last) = (Math.Max(0, column - Math.Min(half, across)), Math.Min(Grid.Columns - 1, column + Math.Min(half, across)));
                    grown.AsSpan((j * Grid.Columns) + first, last - first + 1).Fill(true);
                }
            }
        }

        return new(Grid, grown);
    }

    /// <summary>Those that are in.</summary>
    public IEnumerable<(int Column, int Row)> Cells() => Enumerable.Range(0, isIn.Length).Where(i => isIn[i]).Select(i => (i % Grid.Columns, i / Grid.Columns));

    /// <summary>Cells that are in and hang together by their sides, piece by piece.</summary>
    public IEnumerable<List<(int Column, int Row)>> Pieces()
    {
        var seen = new bool[isIn.Length];
        var queue = new Queue<(int Column, int Row)>();
        for (var i = 0; i < isIn.Length; i++)
        {
            if (!isIn[i] || seen[i]) continue;
            var piece = new List<(int Column, int Row)>();
            seen[i] = true;
            queue.Enqueue((i % Grid.Columns, i / Grid.Columns));
            while (queue.TryDequeue(out var cell))
            {
                piece.Add(cell);
                foreach (var (column, row) in new[] { (cell.Column - 1, cell.Row), (cell.Column + 1, cell.Row), (cell.Column, cell.Row - 1), (cell.Column, cell.Row + 1) })
                {
                    if (!this[column, row] || seen[(row * Grid.Columns) + column]) continue;
                    seen[(row * Grid.Columns) + column] = true;
                    queue.Enqueue((column, row));
                }
            }

            yield return piece;
        }
    }

    /// <summary>Runs of cells in a row that are in, by their corners.</summary>
    public IEnumerable<(Vec2 Low, Vec2 High)> Runs()
    {
        for (var row = 0; row < Grid.Rows; row++)
        {
            for (var column = 0; column < Grid.Columns; column++)
            {
                if (!this[column, row]) continue;
                var first = column;
                while (this[column + 1, row]) column++;
                yield return (Grid.Corner(first, row), Grid.Corner(column + 1, row + 1));
            }
        }
    }

    /// <summary>The sides between a cell that is in and one that is not.</summary>
    public IEnumerable<(Vec2 From, Vec2 To)> Borders()
    {
        for (var row = 0; row <= Grid.Rows; row++)
        {
            for (var column = 0; column <= Grid.Columns; column++)
            {
                if (this[column, row] != this[column - 1, row]) yield return (Grid.Corner(column, row), Grid.Corner(column, row + 1));
                if (this[column, row] != this[column, row - 1]) yield return (Grid.Corner(column, row), Grid.Corner(column + 1, row));
            }
        }
    }

    /// <summary>The part of the plan.</summary>
    public PlanRegion Region(Lattice lattice) => PlanRegion.UnionOn(lattice, Runs().Select(r => PlanRegion.Rectangle(r.Low, r.High)));
}
