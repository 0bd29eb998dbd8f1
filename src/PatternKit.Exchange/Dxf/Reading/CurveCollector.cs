using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>Walks the entities of the model space, follows inserts into blocks, and collects the visible plan curves.</summary>
internal sealed class CurveCollector
{
    private readonly DxfStructure _drawing;
    private readonly string _source;
    private readonly EntityCurves _curves;
    private readonly Dictionary<string, string> _layerNames = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<string> _open = [];
    private readonly OmissionTally _omissions = new();
    private (int Count, int Line) _raised;
    private int _visits;
    private int _vertices;
    private int _line;

    public CurveCollector(DxfStructure drawing, string source, double tolerance)
    {
        _drawing = drawing;
        _source = source;
        _curves = new(tolerance, Spend);
    }

    public List<DxfCurve> Curves { get; } = [];

    /// <summary>Collects everything; returns the notes on what was left out.</summary>
    public List<ReadNote> Collect()
    {
        Walk(_drawing.Entities, Affine3.Identity, null);
        var notes = _omissions.Notes(_source).ToList();
        if (_raised.Count > 0)
            notes.Add(new(_source, _raised.Line, $"{_raised.Count} curves do not lie at height 0 (first at line {_raised.Line}); they are read as seen from above."));
        return notes;
    }

    private void Walk(List<DxfRecord> entities, Affine3 map, string? insertLayer)
    {
        for (var i = 0; i < entities.Count; i++)
        {
            var entity = entities[i];
            Visit(entity);
            var vertices = entity.Type == "POLYLINE" ? Vertices(entities, ref i) : [];
            if (entity.Type == "SEQEND") continue;
            var isInsert = entity.Type == "INSERT";
            if (!isInsert && !EntityCurves.Reads(entity.Type))
            {
                _omissions.Add(entity, "only curves are");
                continue;
            }

            var layer = Layer(entity, insertLayer);
            if (HiddenBecause(entity, layer, isInsert) is { } hidden) _omissions.Add(entity, hidden);
            else if (isInsert) Insert(entity, map, layer);
            else Draw(entity, vertices, map, layer);
        }
    }

    private void Draw(DxfRecord entity, List<DxfRecord> vertices, Affine3 map, string layer)
    {
        var drawn = _curves.Draw(entity, vertices, map);
        if (drawn.Omitted is { } reason)
        {
            _omissions.Add(entity, reason);
            return;
        }

        var path = drawn.Path(entity);
        if (drawn.Height != 0) _raised = (_raised.Count + 1, _raised.Count == 0 ? entity.Line : _raised.Line);
        Curves.Add(new(layer, path, entity.Line));
    }

    private void Insert(DxfRecord insert, Affine3 map, string layer)
    {
        if (insert.Find(2) is not { } tag) throw insert.Fail("names no block. The file is damaged; export it again.");
        var name = _drawing.Names.Decode(tag);
        if (!_drawing.Blocks.TryGetValue(name, out var block))
        {
            _omissions.Add(insert, $"the drawing has no block '{name}'");
            return;
        }

        if (block.IsExternal)
        {
            _omissions.Add(insert, $"the block '{name}' stands in another file");
            return;
        }

        if (_open.Contains(block.Name, StringComparer.OrdinalIgnoreCase))
            throw insert.Fail($"puts the block '{name}' inside itself. Redraw that block.");
        if (_open.Count >= DxfLimits.Depth) throw insert.Fail($"stands more than {DxfLimits.Depth} blocks deep. Explode the blocks and export again.");
        var scale = new Vec3(insert.Number(41, 1), insert.Number(42, 1), insert.Number(43, 1));
        if (scale.X == 0 || scale.Y == 0)
        {
            _omissions.Add(insert, "its scale is zero");
            return;
        }

        _open.Add(block.Name);
        foreach (var placed in Placements(insert, scale)) Walk(block.Entities, map.After(placed).After(Shift(block.Base)), layer);
        _open.RemoveAt(_open.Count - 1);
    }

    // The insertion point, the turn and the grid are in the object coordinates of the insert.
    private IEnumerable<Affine3> Placements(DxfRecord insert, Vec3 scale)
    {
        var frame = Affine3.ObjectFrame(insert.Normal());
        var (at, turn) = (insert.Point(10), insert.Number(50, 0));
        var (columns, rows) = (Math.Max(1, insert.Whole(70, 1)), Math.Max(1, insert.Whole(71, 1)));
        var (columnStep, rowStep) = (insert.Number(44, 0), insert.Number(45, 0));
        var turned = Affine3.Placed(new(1, 1, 1), turn, at);
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                Visit(insert);
                var shift = turned.Point(new(column * columnStep, row * rowStep, 0));
                yield return frame.After(Affine3.Placed(scale, turn, shift));
            }
        }
    }

    private static Affine3 Shift(Vec3 origin) => Affine3.Identity with { Origin = -1 * origin };

    // What stands on layer 0 of a block takes the layer of the insert.
    private string Layer(DxfRecord entity, string? insertLayer)
    {
        var name = entity.Find(8) is { } tag ? _drawing.Names.Decode(tag) : "0";
        if (name == "0" && insertLayer is not null) return insertLayer;
        if (_drawing.Layer(name) is { } state) return state.Name;
        if (_layerNames.TryGetValue(name, out var first)) return first;
        return _layerNames[name] = name;
    }

    // A frozen layer hides an insert with all it holds; one switched off hides only what lies on it.
    private string? HiddenBecause(DxfRecord entity, string layer, bool isInsert)
    {
        if (entity.Whole(67, 0) == 1) return "it is in paper space";
        if (entity.Whole(60, 0) == 1) return "it is invisible";
        return _drawing.Layer(layer) is { } state && state.Hidden is { } hidden && (state.IsFrozen || !isInsert)
            ? $"its layer '{layer}' is {hidden}" : null;
    }

    private List<DxfRecord> Vertices(List<DxfRecord> entities, ref int i)
    {
        var vertices = new List<DxfRecord>();
        while (i + 1 < entities.Count && entities[i + 1].Type == "VERTEX")
        {
            vertices.Add(entities[++i]);
            Visit(entities[i]);
        }

        return vertices;
    }

    private void Visit(DxfRecord entity)
    {
        _line = entity.Line;
        if (++_visits > DxfLimits.Visits)
            throw entity.Fail($"is one too many: with its inserted blocks the drawing holds more than {DxfLimits.Visits} entities. Delete what is not needed.");
    }

    private void Spend(int vertices)
    {
        _vertices += vertices;
        if (_vertices > DxfLimits.Vertices)
            throw new InputException(_source, $"line {_line}", $"the curves of the drawing have more than {DxfLimits.Vertices} vertices. Delete or simplify what is not needed.");
    }
}
