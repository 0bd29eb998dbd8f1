using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>Points hashed into square cells, to find those within one cell width.</summary>
internal sealed class PointGrid(double reach)
{
    private readonly Dictionary<(long X, long Y), List<int>> _cells = [];
    private readonly double _cell = reach * 1.0001;

    public void Add(Vec2 p, int id)
    {
        var key = Cell(p);
        if (!_cells.TryGetValue(key, out var list)) _cells[key] = list = [];
        list.Add(id);
    }

    /// <summary>Ids in the cell of the point and the eight around it.</summary>
    public IEnumerable<int> Near(Vec2 p)
    {
        var (x, y) = Cell(p);
        for (var dx = -1; dx <= 1; dx++)
        {
            for (var dy = -1; dy <= 1; dy++)
            {
                if (!_cells.TryGetValue((x + dx, y + dy), out var list)) continue;
                foreach (var id in list) yield return id;
            }
        }
    }

    private (long X, long Y) Cell(Vec2 p) => ((long)Math.Floor(p.X / _cell), (long)Math.Floor(p.Y / _cell));
}
