using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>An entity or table entry: its type and its groups, those of applications left out.</summary>
internal sealed class DxfRecord
{
    private readonly string _source;

    public DxfRecord(string type, int line, ReadOnlyMemory<DxfTag> tags, string source)
    {
        Type = type;
        Line = line;
        Tags = WithoutApplicationData(tags);
        _source = source;
    }

    public string Type { get; }

    /// <summary>Line where the type stands.</summary>
    public int Line { get; }

    public ReadOnlyMemory<DxfTag> Tags { get; }

    /// <summary>The first group of this code.</summary>
    public DxfTag? Find(int code)
    {
        foreach (ref readonly var tag in Tags.Span)
            if (tag.Code == code) return tag;
        return null;
    }

    /// <summary>The number of one of this record's groups.</summary>
    public double NumberOf(in DxfTag tag) => tag.Number(_source);

    /// <summary>A number that may be left out.</summary>
    public double Number(int code, double otherwise) => Find(code)?.Number(_source) ?? otherwise;

    /// <summary>A number that must be there.</summary>
    public double Number(int code) => Find(code)?.Number(_source) ?? throw Lacks(code);

    /// <summary>A whole number that may be left out.</summary>
    public int Whole(int code, int otherwise) => Find(code)?.Whole(_source) ?? otherwise;

    /// <summary>A point or vector that must be there; z may be left out.</summary>
    public Vec3 Point(int code) => new(Number(code), Number(code + 10), Number(code + 20, 0));

    /// <summary>A point or vector that may be left out whole.</summary>
    public Vec3? OptionalPoint(int code) => Find(code) is null ? null : Point(code);

    /// <summary>The extrusion direction (210, 220, 230), of length one; world z when left out.</summary>
    public Vec3 Normal()
    {
        if (OptionalPoint(210) is not { } n) return new(0, 0, 1);
        if (n.Length < 1e-12) throw Fail("has an extrusion direction of length zero. Redraw it.");
        return (1 / n.Length) * n;
    }

    /// <summary>An exception that names this entity and its line.</summary>
    public InputException Fail(string problem) => new(_source, $"line {Line}", $"the {Type} {problem}");

    private InputException Lacks(int code) => Fail($"lacks its group {code}. The file is damaged; export it again.");

    // 102 brackets what an application keeps with an entity, 101 starts an embedded object, 1000 and up is extended data.
    private static ReadOnlyMemory<DxfTag> WithoutApplicationData(ReadOnlyMemory<DxfTag> tags)
    {
        var span = tags.Span;
        var plain = true;
        foreach (ref readonly var tag in span) plain &= tag.Code is not (101 or 102 or >= 1000);
        if (plain) return tags;
        var kept = new List<DxfTag>(span.Length);
        var inside = false;
        foreach (ref readonly var tag in span)
        {
            if (tag.Code == 101) break;
            if (tag.Code == 102) inside = tag.Value.Span.IndexOf((byte)'{') >= 0;
            else if (!inside && tag.Code < 1000) kept.Add(tag);
        }

        return kept.ToArray();
    }
}
