using System.Collections.Immutable;
using System.Text.Json.Nodes;
using PatternKit.Cli.Files;
using PatternKit.Exchange;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.JobFile;
using Spectre.Console;


namespace PatternKit.Cli.Output;

/// <summary>A layer of a drawing, as an outline.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Curves">Visible curves on it.</param>
/// <param name="Loops">Closed loops that they join to; 0 when some do not close.</param>
/// <param name="Size">Width and height over all, drawing units.</param>
/// <param name="Problem">Why it cannot be an outline as it stands, or null.</param>
internal sealed record LayerReport(string Name, int Curves, int Loops, Vec2 Size, string? Problem);

/// <summary>What a drawing holds: unit, layers, loops, gaps, and what was repaired or left out.</summary>
internal sealed record DrawingReport(string Path, string Unit, bool UnitStated, double Gap, ImmutableArray<LayerReport> Layers, ImmutableArray<ReadNote> Notes)
{
    private const int LargestDrawing_MB = 64;

    /// <summary>Reads a drawing and joins each of its layers as a job would.</summary>
    /// <param name="path">A DXF file.</param>
    /// <param name="unit">"mm" or "in" for a drawing that states none.</param>
    /// <exception cref="InputException">It is not a DXF file that can be read.</exception>
    public static DrawingReport Of(string path, string? unit)
    {
        var name = System.IO.Path.GetFileName(path);
        var read = DxfReader.Read(WholeFile.Read(path, LargestDrawing_MB), name);
        var notes = read.Notes.ToBuilder();
        var drawing = read.Value;
        var stated = drawing.MillimetresPerUnit is not null;
        if (stated && unit is not null) notes.Add(new(name, 0, $"the drawing states its unit ({drawing.Unit}); --unit {unit} is not used."));
        if (!stated) notes.Add(new(name, 0, unit is null ? "no unit is known; gaps are judged as if it were millimetres. Give --unit mm or --unit in." : $"taken as {unit}, as given."));
        var scale = drawing.MillimetresPerUnit ?? (unit == "in" ? 25.4 : 1);
        var layers = drawing.Layers.Select(l => Layer(drawing, l, scale, name, notes)).ToImmutableArray();
        return new(path, stated ? drawing.Unit.ToString().ToLowerInvariant() : unit ?? "not stated", stated, OutlineTolerance.Gap_mm / scale, layers, notes.ToImmutable());
    }

    /// <summary>Writes it for people.</summary>
    public void Write(Terminal terminal)
    {
        terminal.Results.WriteLine($"{Path}: unit {Unit}{(UnitStated || Unit == "not stated" ? "" : " (given, not stated by the drawing)")}");
        var table = new Table().Border(TableBorder.Simple).AddColumns("layer", "curves", "loops", "size", "as an outline");
        foreach (var l in Layers)
            table.AddRow(new Text(l.Name), new Text($"{l.Curves}"), new Text($"{l.Loops}"), new Text($"{FindingText.Number(l.Size.X)} × {FindingText.Number(l.Size.Y)}"), new Text(l.Problem is null ? "✓ closed" : $"▲ {l.Problem}"));
        if (!Layers.IsEmpty) terminal.Write(table);
        FindingText.Write(terminal.Results, Notes);
    }

    /// <summary>The same for scripts.</summary>
    public JsonObject Json() => new()
    {
        ["file"] = Path,
        ["unit"] = Unit,
        ["unit_stated"] = UnitStated,
        ["gap_units"] = Gap,
        ["layers"] = JsonText.List(Layers.Select(l => new JsonObject { ["name"] = l.Name, ["curves"] = l.Curves, ["loops"] = l.Loops, ["size_units"] = JsonText.Row(l.Size.X, l.Size.Y), ["problem"] = l.Problem })),
        ["notes"] = Json(Notes),
    };

    /// <summary>Notes for scripts.</summary>
    public static JsonArray Json(IEnumerable<ReadNote> notes) => JsonText.List(notes.Select(n => new JsonObject { ["file"] = n.Source, ["line"] = n.Line, ["message"] = n.Text }));

    private static LayerReport Layer(DxfDrawing drawing, string layer, double scale, string file, ImmutableArray<ReadNote>.Builder notes)
    {
        var curves = drawing.Curves.Where(c => c.Layer == layer).ToList();
        var size = DrawingSize.Of(curves.Select(c => c.Path));
        try
        {
            var chained = LoopChaining.Chain(curves, OutlineTolerance.Gap_mm / scale, file);
            notes.AddRange(chained.Notes);
            if (chained.Value.IsEmpty) return new(layer, curves.Count, 0, size, "no closed loop");
            LoopCheck.Demand(chained.Value, OutlineTolerance.Chord_mm / scale, file);
            return new(layer, curves.Count, chained.Value.Length, size, null);
        }
        catch (InputException e)
        {
            // Not every layer is an outline (centre lines, sizes): that is told, and the rest is still looked at.
            return new(layer, curves.Count, 0, size, e.Message);
        }
    }
}
