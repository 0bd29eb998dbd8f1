using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Grids;

/// <summary>
/// From the middle of every solid cell to the nearest place where a line of middles passes the skin, exactly: the separable transform of Felzenszwalb and
/// Huttenlocher (Distance transforms of sampled functions, 2012), once for the places along each axis. It runs inside the body alone: a ball about a
/// middle that reaches the nearest place holds no empty cell, so that the way to it through its parts along the axes is solid. Time grows with the solid cells.
/// </summary>
public sealed class SkinDistance
{
    private readonly float[] squares;
    private readonly int[] feet;

    private SkinDistance(SolidGrid grid)
    {
        Grid = grid;
        squares = new float[grid.Count];
        feet = new int[grid.Count];
    }

    /// <summary>The body.</summary>
    public SolidGrid Grid { get; }

    /// <summary>Distance from the middle of a solid cell to the skin, in cells.</summary>
    public double InCells(int cell) => Math.Sqrt(squares[cell]);

    /// <summary>The place of the skin that is nearest to a solid cell, in cells from the first middle.</summary>
    public Vec3 Foot(int cell)
    {
        var (at, axis) = Math.DivRem(feet[cell], 3);
        var (x, y, z) = Grid.Split(at);
        double along = Grid.Crossing(axis, at);
        return axis switch { 0 => new(along, y, z), 1 => new(x, along, z), _ => new(x, y, along) };
    }

    /// <summary>
    /// The face that is nearest to a solid cell: its outward normal and how far it is, in cells. Lines pass a face here and there only; where the nearest such place is
    /// less than a cell to the side, the face is taken as the plane there, else as that place.
    /// </summary>
    public (Vec3 Normal, double Reach) Face(int cell)
    {
        const double Aside = 0.75;
        var (x, y, z) = Grid.Split(cell);
        var way = Foot(cell) - new Vec3(x, y, z);
        var (at, axis) = Math.DivRem(feet[cell], 3);
        if (SkinNormal.At(Grid, axis, at) is { } normal)
        {
            var reach = Vec3.Dot(way, normal);
            if (reach >= 0 && squares[cell] - (reach * reach) < Aside * Aside) return (normal, reach);
        }

        var length = way.Length;
        return (length > 0 ? 1 / length * way : default, length);
    }

    /// <summary>Measures a body.</summary>
    public static SkinDistance Of(SolidGrid grid)
    {
        var distance = new SkinDistance(grid);
        Array.Fill(distance.squares, float.PositiveInfinity);
        for (var axis = 0; axis < 3; axis++) distance.Along(axis);
        return distance;
    }

    private void Along(int a)
    {
        var grid = Grid;
        var (b, c) = ((a + 1) % 3, (a + 2) % 3);
        var (first, second, third) = (new float[grid.Count], new float[grid.Count], new float[grid.Count]);
        var place = new int[grid.Count];
        var (fromB, fromC) = (new short[grid.Count], new short[grid.Count]);
        ForRuns(a, (start, from, to, stride) =>
        {
            var (low, high) = (grid.Crossing(a, start + ((from - 1) * stride)), grid.Crossing(a, start + (to * stride)));
            for (var i = from; i <= to; i++)
            {
                var cell = start + (i * stride);
                var isLow = i - low <= high - i;
                place[cell] = start + ((isLow ? from - 1 : to) * stride);
                var way = (isLow ? low : high) - i;
                first[cell] = way * way;
            }
        });
        Transform(b, first, second, fromB);
        Transform(c, second, third, fromC);

        var (strideB, strideC) = (grid.Stride(b), grid.Stride(c));
        for (var cell = 0; cell < grid.Count; cell++)
        {
            if (!grid.IsSolid(cell) || third[cell] >= squares[cell]) continue;
            squares[cell] = third[cell];
            var atC = cell + (fromC[cell] * strideC);
            var atB = atC + (fromB[atC] * strideB);
            feet[cell] = (3 * place[atB]) + a;
        }
    }

    /// <summary>Lower envelope of the parabolas over each run along an axis; how far each cell's parabola is from it.</summary>
    private void Transform(int axis, float[] values, float[] result, short[] from)
    {
        var (tips, ends) = (new int[Grid.Length(axis)], new double[Grid.Length(axis) + 1]);
        ForRuns(axis, (start, low, high, stride) =>
        {
            var k = -1;
            for (var i = low; i <= high; i++)
            {
                double value = values[start + (i * stride)], crossing = double.NegativeInfinity;
                while (k >= 0)
                {
                    var t = tips[k];
                    crossing = (value - values[start + (t * stride)] + ((double)i * i) - ((double)t * t)) / (2.0 * (i - t));
                    if (crossing > ends[k]) break;
                    k--;
                    crossing = double.NegativeInfinity;
                }

                tips[++k] = i;
                ends[k] = crossing;
            }

            var last = k;
            k = 0;
            for (var i = low; i <= high; i++)
            {
                while (k < last && ends[k + 1] < i) k++;
                var cell = start + (i * stride);
                var way = tips[k] - i;
                result[cell] = (way * way) + values[start + (tips[k] * stride)];
                from[cell] = (short)way;
            }
        });
    }

    /// <summary>The runs of solid cells along an axis: number of the line's first cell, first and last place of the run, stride.</summary>
    private void ForRuns(int axis, Action<int, int, int, int> run)
    {
        var (b, c) = ((axis + 1) % 3, (axis + 2) % 3);
        int length = Grid.Length(axis), stride = Grid.Stride(axis), strideB = Grid.Stride(b), strideC = Grid.Stride(c);
        for (var j = 0; j < Grid.Length(c); j++)
        {
            for (var i = 0; i < Grid.Length(b); i++)
            {
                var start = (i * strideB) + (j * strideC);
                for (var k = 1; k < length; k++)
                {
                    if (!Grid.IsSolid(start + (k * stride))) continue;
                    var from = k;
                    while (Grid.IsSolid(start + ((k + 1) * stride))) k++;
                    run(start, from, k, stride);
                }
            }
        }
    }
}
