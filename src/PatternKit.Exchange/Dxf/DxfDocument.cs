using System.Buffers;
using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>How the lines of a layer are drawn.</summary>
public enum DxfLineType
{
    Continuous,
    Dashed,

    /// <summary>Long and short dashes by turns, for centre lines.</summary>
    Center,
}

/// <summary>A layer: its name and the line type of what lies on it.</summary>
public sealed record DxfLayer(string Name, DxfLineType LineType = DxfLineType.Continuous);

/// <summary>Something drawn on a layer; coordinates in drawing units.</summary>
public abstract record DxfEntity(string Layer);

/// <summary>
/// A path. A straight open path of two vertices becomes a LINE, a single open arc an ARC, a full circle a CIRCLE, all
/// else an LWPOLYLINE with bulges. An ARC is stored counter-clockwise and a CIRCLE without a start, as the format has it.
/// </summary>
public sealed record DxfPath(string Layer, PlanPath Path) : DxfEntity(Layer);

/// <summary>A line of straight pieces in space, a POLYLINE that is marked as one in three dimensions.</summary>
/// <param name="Layer">Layer that holds it.</param>
/// <param name="Points">Two points or more; of a closed line the first is not repeated.</param>
/// <param name="IsClosed">Whether it returns to its first point.</param>
public sealed record DxfSpaceLine(string Layer, ImmutableArray<Vec3> Points, bool IsClosed) : DxfEntity(Layer);

/// <summary>A line of text by the left end of its baseline.</summary>
/// <param name="Layer">Layer that holds it.</param>
/// <param name="At">Left end of the baseline.</param>
/// <param name="Height">Height of capitals, drawing units, above zero.</param>
/// <param name="Turn">Direction of the baseline, radians counter-clockwise from x.</param>
/// <param name="Content">The text: one line. The codes of the format hold: %%d degree, %%p plus or minus, %%c diameter.</param>
public sealed record DxfText(string Layer, Vec2 At, double Height, double Turn, string Content) : DxfEntity(Layer);

/// <summary>A point.</summary>
public sealed record DxfPoint(string Layer, Vec2 At) : DxfEntity(Layer);

/// <summary>A drawing to be written: unit, layers and entities, checked when it is made.</summary>
public sealed class DxfDocument
{
    // Characters that no layer name may hold (DXF reference, "Symbol table names").
    private const string Forbidden = "<>/\\\":;?*|=`',";
    private static readonly SearchValues<char> ForbiddenLetters = SearchValues.Create(Forbidden);

    /// <summary>Makes a drawing.</summary>
    /// <param name="unit"><see cref="DxfUnit.Millimetre"/> or <see cref="DxfUnit.Inch"/>: what the coordinates are in.</param>
    /// <param name="layers">The layers; layer 0 is always there.</param>
    /// <param name="entities">What is drawn, in order.</param>
    /// <exception cref="ArgumentException">Another unit; a layer name that is empty, too long, not allowed or used twice; an entity on no layer, or with a coordinate, height or text that cannot be written.</exception>
    public DxfDocument(DxfUnit unit, IEnumerable<DxfLayer> layers, IEnumerable<DxfEntity> entities)
    {
        if (unit is not (DxfUnit.Millimetre or DxfUnit.Inch)) throw new ArgumentException($"A drawing is written in millimetres or inches, not in {unit}.", nameof(unit));
        Unit = unit;
        Layers = [.. layers];
        Entities = [.. entities];
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var layer in Layers)
        {
            CheckName(layer.Name);
            if (!names.Add(layer.Name)) throw new ArgumentException($"The layer '{layer.Name}' is there twice.", nameof(layers));
        }

        names.Add("0");
        foreach (var entity in Entities)
        {
            if (!names.Contains(entity.Layer)) throw new ArgumentException($"There is no layer '{entity.Layer}'.", nameof(entities));
            CheckEntity(entity);
        }
    }

    /// <summary>Unit of all lengths.</summary>
    public DxfUnit Unit { get; }

    /// <summary>The layers, without layer 0 unless it was given.</summary>
    public ImmutableArray<DxfLayer> Layers { get; }

    /// <summary>What is drawn, in order.</summary>
    public ImmutableArray<DxfEntity> Entities { get; }

    private static void CheckName(string name)
    {
        if (name.Length is 0 or > 255 || name != name.Trim() || name.AsSpan().ContainsAny(ForbiddenLetters) || name.Any(char.IsControl))
            throw new ArgumentException($"'{name}' cannot name a layer: it is empty, longer than 255, has blanks at its ends, or holds one of {Forbidden}.", nameof(name));
    }

    private static void CheckEntity(DxfEntity entity)
    {
        var fits = entity switch
        {
            DxfText text => text.At.IsFinite && double.IsFinite(text.Turn) && double.IsFinite(text.Height) && text.Height > 0
                && text.Content.Length is > 0 and <= 2000 && !text.Content.Any(char.IsControl),
            DxfPoint point => point.At.IsFinite,
            DxfPath => true,
            DxfSpaceLine line => line.Points.Length >= 2 && line.Points.All(p => p.IsFinite),
            _ => false,
        };
        if (!fits) throw new ArgumentException($"This cannot be written: {entity}", nameof(entity));
    }
}
