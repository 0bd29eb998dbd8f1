using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>A block: entities drawn about a base point, to be inserted.</summary>
internal sealed record DxfBlock(string Name, Vec3 Base, bool IsExternal, List<DxfRecord> Entities);

/// <summary>How a layer is shown.</summary>
internal sealed record DxfLayerState(string Name, bool IsFrozen, bool IsOff)
{
    /// <summary>Why its curves are not seen, or null.</summary>
    public string? Hidden => IsFrozen ? "frozen" : IsOff ? "switched off" : null;
}

/// <summary>The parts of a DXF file that curves need: header, layers, blocks, entities.</summary>
internal sealed class DxfStructure
{
    private readonly Dictionary<string, DxfLayerState> _layers = new(StringComparer.Ordinal);
    private readonly Dictionary<string, DxfLayerState> _layersOfAnyCase = new(StringComparer.OrdinalIgnoreCase);
    private readonly DxfTag[] _tags;
    private readonly string _source;
    private readonly List<ReadNote> _notes;
    private readonly Dictionary<string, DxfTag> _header = new(StringComparer.Ordinal);
    private readonly List<(int Start, int End, string Name)> _sections = [];

    public DxfStructure(List<DxfTag> tags, string source, List<ReadNote> notes)
    {
        _tags = [.. tags];
        _source = source;
        _notes = notes;
        CutSections();
        foreach (var (start, end, name) in _sections) if (name == "HEADER") ReadHeader(start, end);
        Names = new DxfNames(HeaderKeyword("$ACADVER"), HeaderKeyword("$DWGCODEPAGE"), (line, text) => notes.Add(new(source, line, text)));
        foreach (var (start, end, name) in _sections)
        {
            if (name == "TABLES") ReadLayers(start, end);
            else if (name == "BLOCKS") ReadBlocks(start, end);
            else if (name == "ENTITIES") Entities.AddRange(Records(start, end));
        }
    }

    public DxfNames Names { get; }

    /// <summary>
    /// The layer of the table that an entity means: the one of exactly this name, else the first that differs by case only, since the
    /// format tells no case. A drawing whose table holds both spellings was made by a program that does, and keeps them apart.
    /// </summary>
    public DxfLayerState? Layer(string name) =>
        _layers.TryGetValue(name, out var exact) ? exact : _layersOfAnyCase.TryGetValue(name, out var first) ? first : null;

    public Dictionary<string, DxfBlock> Blocks { get; } = new(StringComparer.OrdinalIgnoreCase);

    public List<DxfRecord> Entities { get; } = [];

    /// <summary>First group of a header variable.</summary>
    public DxfTag? Header(string name) => _header.TryGetValue(name, out var tag) ? tag : null;

    private string? HeaderKeyword(string name) => Header(name)?.Keyword;

    private void CutSections()
    {
        for (var i = 0; i < _tags.Length;)
        {
            i = PassStrays(i);
            if (i == _tags.Length) break;
            if (!_tags[i].Is(0, "SECTION"u8) || i + 1 >= _tags.Length || _tags[i + 1].Code != 2)
                throw new InputException(_source, $"line {_tags[i].Line}",
                    $"found {_tags[i].Shown} (group {_tags[i].Code}) where a section must begin. The file is damaged or is no DXF; export the drawing again.");
            var start = i + 2;
            for (i = start; i < _tags.Length && !_tags[i].Is(0, "ENDSEC"u8); i++)
            {
                if (_tags[i].Is(0, "SECTION"u8))
                    throw new InputException(_source, $"line {_tags[i].Line}", "a section begins before the one ahead of it has ended. Export the drawing again.");
            }

            if (i >= _tags.Length)
                throw new InputException(_source, $"line {_tags[^1].Line}", $"the section {_tags[start - 1].Shown} does not end. The file was cut short; export it again.");
            _sections.Add((start, i, _tags[start - 1].Keyword));
            i++;
        }

        if (_sections.Count == 0) throw new InputException(_source, "", "the drawing holds no section at all. Export it again.");
    }

    // Some writers (dxflib 2.0) end the header too early; what then stands between sections says nothing about curves.
    private int PassStrays(int from)
    {
        var i = from;
        while (_sections.Count > 0 && i < _tags.Length && (_tags[i].Code != 0 || _tags[i].Is(0, "ENDSEC"u8))) i++;
        if (i > from) _notes.Add(new(_source, _tags[from].Line, $"{i - from} groups between two sections are passed over; the writer of the file ended a section too early."));
        return i;
    }

    private void ReadHeader(int start, int end)
    {
        for (var i = start; i + 1 < end; i++)
            if (_tags[i].Code == 9 && _tags[i + 1].Code != 9) _header.TryAdd(_tags[i].Keyword, _tags[i + 1]);
    }

    private void ReadLayers(int start, int end)
    {
        foreach (var record in Records(start, end))
        {
            if (record.Type != "LAYER" || record.Find(2) is not { } name) continue;
            var state = new DxfLayerState(Names.Decode(name), (record.Whole(70, 0) & 1) != 0, record.Whole(62, 7) < 0);
            _layers.TryAdd(state.Name, state);
            _layersOfAnyCase.TryAdd(state.Name, state);
        }
    }

    private void ReadBlocks(int start, int end)
    {
        DxfBlock? block = null;
        foreach (var record in Records(start, end))
        {
            if (record.Type == "BLOCK")
            {
                if (record.Find(2) is not { } name) throw record.Fail("has no name. The file is damaged; export it again.");
                // Flags 4, 16 and 32: a drawing in another file.
                block = new(Names.Decode(name), record.OptionalPoint(10) ?? default, (record.Whole(70, 0) & 0x34) != 0, []);
                if (!Blocks.TryAdd(block.Name, block))
                    _notes.Add(new(_source, record.Line, $"A second block named '{block.Name}' is left out; the first counts."));
            }
            else if (record.Type == "ENDBLK")
            {
                block = null;
            }
            else
            {
                if (block is null) throw record.Fail("stands between blocks. The file is damaged; export it again.");
                block.Entities.Add(record);
            }
        }
    }

    private IEnumerable<DxfRecord> Records(int start, int end)
    {
        if (start < end && _tags[start].Code != 0)
            throw new InputException(_source, $"line {_tags[start].Line}", $"found group {_tags[start].Code} where an entry (group 0) must begin. Export the drawing again.");
        for (var i = start; i < end;)
        {
            var next = i + 1;
            while (next < end && _tags[next].Code != 0) next++;
            yield return new(_tags[i].Keyword, _tags[i].Line, _tags.AsMemory(i + 1, next - i - 1), _source);
            i = next;
        }
    }
}
