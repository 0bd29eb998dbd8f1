using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>outline = "file.dxf#LAYER"</c>: every closed loop of a layer, in millimetres. A drawing is read once, however
/// many layers are used.
/// </summary>
internal sealed class OutlineReader(JobText text, InputFiles files)
{
    private const string Example = "outline = \"bracket.dxf#BASE\"";
    private readonly Dictionary<string, DxfDrawing> _drawings = [];

    /// <summary>The layer's name as the drawing has it, and its loops.</summary>
    public (string Layer, ImmutableArray<PlanPath> Loops) Read(TomlEntry entry, TomlEntry? gap)
    {
        if (entry.Value is not TomlText written) throw text.Refuse(entry.Value.Line, $"{entry.Key} is {entry.Value.Kind}; write {Example}.");
        var line = entry.Value.Line;
        var (file, wanted) = Split(written.Value, line);
        var drawing = Open(file, line);
        var layer = Find(drawing, file, wanted, line);
        var gap_mm = gap is null ? OutlineTolerance.Gap_mm : Values.Length(text, gap.Value, "gap", 0, 1);
        var scale = drawing.MillimetresPerUnit ?? (text.Unit == LengthUnit.Inch ? 25.4 : 1);
        var chained = LoopChaining.Chain(drawing.Curves.Where(c => c.Layer == layer), gap_mm / scale, file);
        text.Note(chained.Notes);
        if (chained.Value.IsEmpty) throw text.Refuse(line, $"layer \"{layer}\" of {file} has no closed loop; draw one, or name another layer.{Layers(drawing)}");
        if (chained.Value.Length > 5000) throw text.Refuse(line, $"layer \"{layer}\" of {file} has {chained.Value.Length} loops; at most 5000.");
        return (layer, [.. chained.Value.Select(p => scale == 1 ? p : p.Transformed(scale, 0, default))]);
    }

    private (string File, string? Layer) Split(string written, int line)
    {
        var i = written.IndexOf(".dxf#", StringComparison.OrdinalIgnoreCase);
        if (i >= 0) return (written[..(i + 4)], written[(i + 5)..]);
        return written.EndsWith(".dxf", StringComparison.OrdinalIgnoreCase)
            ? (written, null)
            : throw text.Refuse(line, $"outline = \"{Show.Short(written)}\" does not name a DXF file and a layer; write {Example}.");
    }

    private DxfDrawing Open(string file, int line)
    {
        if (_drawings.TryGetValue(file, out var known)) return known;
        var content = files.Drawing(file, problem => text.Refuse(line, problem));
        var read = DxfReader.Read(content, file);
        text.Note(read.Notes);
        var drawing = read.Value;
        if (drawing.MillimetresPerUnit is null)
            text.Note([new ReadNote(file, 0, $"the drawing says no unit; the job's ({(text.Unit == LengthUnit.Inch ? "inches" : "millimetres")}) is taken.")]);
        _drawings.Add(file, drawing);
        return drawing;
    }

    // Layer names do not tell upper from lower case in DXF: another spelling is taken, with a note, where it is the only one.
    private string Find(DxfDrawing drawing, string file, string? wanted, int line)
    {
        if (string.IsNullOrEmpty(wanted)) throw text.Refuse(line, $"outline does not say which layer of {file}; write \"{file}#LAYER\".{Layers(drawing)}");
        if (drawing.Layers.Contains(wanted)) return wanted;
        var near = drawing.Layers.Where(l => string.Equals(l, wanted, StringComparison.OrdinalIgnoreCase)).ToList();
        if (near.Count == 0) throw text.Refuse(line, $"{file} has no layer \"{Show.Short(wanted)}\".{Layers(drawing)}");
        if (near.Count > 1)
            throw text.Refuse(line, $"{file} has no layer \"{Show.Short(wanted)}\", but {string.Join(" and ", near.Select(l => $"\"{Show.Short(l)}\""))}, which differ by upper and lower case only; write the one that is meant.");
        text.Note(line, $"{file} spells the layer \"{Show.Short(wanted)}\" as \"{Show.Short(near[0])}\"; that one is taken.");
        return near[0];
    }

    private static string Layers(DxfDrawing drawing) =>
        drawing.Layers.IsEmpty ? " The drawing has no layers." : $" Layers that are there: {string.Join(", ", drawing.Layers.Take(40).Select(Show.Short))}{(drawing.Layers.Length > 40 ? ", …" : "")}.";
}
