using System.Collections.Immutable;

namespace PatternKit.Exchange.Dxf;

/// <summary>
/// Reads the plan curves of an ASCII DXF drawing, R12 (AC1009) to R2018 (AC1032): LINE, ARC, CIRCLE, ELLIPSE, SPLINE,
/// LWPOLYLINE, POLYLINE, and INSERT of blocks. All else is listed in the notes, as is what is hidden or out of the plan.
/// Source of the format: the published DXF reference.
/// </summary>
public static class DxfReader
{
    /// <summary>Reads a drawing from the bytes of its file.</summary>
    /// <param name="content">The file.</param>
    /// <param name="sourceName">Its name as the user gave it, for messages.</param>
    /// <param name="curveTolerance_mm">
    /// Largest distance, mm, between an ellipse or spline and the arcs that stand for it. Where the drawing has no unit it
    /// is taken as if in inches, which is fine enough for either. Lines, circular arcs and polylines are exact.
    /// </param>
    /// <returns>Curves in drawing units, and a note for everything left out or repaired.</returns>
    /// <exception cref="InputException">The file is of another kind, binary, cut short, damaged, or beyond all measure.</exception>
    public static ReadResult<DxfDrawing> Read(byte[] content, string sourceName, double curveTolerance_mm = 0.001)
    {
        ArgumentNullException.ThrowIfNull(content);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(curveTolerance_mm);
        var notes = new List<ReadNote>();
        var tags = DxfTagReader.Read(DxfFileKind.Demand(content, sourceName), sourceName);
        var structure = new DxfStructure(tags, sourceName, notes);
        var unit = Unit(structure, sourceName, notes);
        var collector = new CurveCollector(structure, sourceName, curveTolerance_mm / (DxfUnits.MillimetresPer(unit) ?? 25.4));
        notes.AddRange(collector.Collect());
        var layers = collector.Curves.Select(c => c.Layer).Distinct(StringComparer.Ordinal);
        var drawing = new DxfDrawing(unit, [.. collector.Curves], [.. layers]);
        if (drawing.Curves.IsEmpty) notes.Add(new(sourceName, 0, "The drawing shows no curve."));
        return new(drawing, [.. notes]);
    }

    private static DxfUnit Unit(DxfStructure structure, string source, List<ReadNote> notes)
    {
        var stated = structure.Header("$INSUNITS");
        var unit = stated is { } tag ? (DxfUnit)tag.Whole(source) : DxfUnit.None;
        // Surveyors' twins of 1, 2, 10 and 3 differ from them by 2 parts in a million.
        unit = (int)unit switch { 21 => DxfUnit.Foot, 22 => DxfUnit.Inch, 23 => DxfUnit.Yard, 24 => DxfUnit.Mile, _ => unit };
        if (unit != DxfUnit.None && DxfUnits.MillimetresPer(unit) is not null)
        {
            if (stated!.Value.Whole(source) > 20) notes.Add(new(source, stated.Value.Line, $"The unit is a survey unit ($INSUNITS {stated.Value.Shown}); it is read as the international {unit}."));
            return unit;
        }

        var hint = structure.Header("$MEASUREMENT")?.Keyword switch
        {
            "0" => " It was set up for inches ($MEASUREMENT 0), which is a hint only.",
            "1" => " It was set up for metric work ($MEASUREMENT 1), which is a hint only.",
            _ => "",
        };
        notes.Add(stated is { } odd && unit != DxfUnit.None
            ? new(source, odd.Line, $"The unit of the drawing ($INSUNITS {odd.Shown}) is not one for parts; say which it is.{hint}")
            : new(source, stated?.Line ?? 0, $"The drawing does not state its unit ($INSUNITS); say which it is.{hint}"));
        return DxfUnit.None;
    }
}
