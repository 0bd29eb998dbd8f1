using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads the [[part]] tables into features.</summary>
internal sealed class PartReader(JobText text, OutlineReader outlines)
{
    /// <summary>Greatest height above or below the job's origin.</summary>
    public const double LargestHeight_mm = 5000;

    private const int MostParts = 1000;

    /// <summary>Words that <c>stock</c> uses for places; a feature of that name could not be told from them.</summary>
    public static readonly string[] Places = ["top", "bottom", "sides", "holes"];

    private static readonly string[] Keys = ["name", "outline", "shape", "turned", "text", "axis", "at", "size", "turn", "z", "cut", "gap"];

    private static readonly IReadOnlyDictionary<string, string> Elsewhere = new Dictionary<string, string>(
        new[] { "corner", "circle", "rectangle", "slot", "polygon", "path" }.Select(k =>
            KeyValuePair.Create(k, "it belongs inside the shape, such as shape = { circle = 24, at = [70, 30] }."))
        .Concat(new[] { "unit", "lie" }.Select(k => KeyValuePair.Create(k, "it is for a mesh. Take it out."))));

    /// <summary>Reads all parts; there is at least one, and one that adds metal comes first.</summary>
    public ImmutableArray<Feature> Read(TomlEntry? parts)
    {
        if (parts is null) throw text.Refuse(0, "the job has no [[part]]; a part is made of at least one, with outline, shape or text, and z, with turned and axis, or with mesh.");
        if (parts.Value is not TomlList { OfHeaders: true } list) throw text.Refuse(parts.Line, "part is written in double brackets, once for every feature: [[part]].");
        if (list.Items.Length > MostParts) throw text.Refuse(parts.Line, $"the job has {list.Items.Length} [[part]] tables; at most {MostParts}.");
        var features = ImmutableArray.CreateBuilder<Feature>();
        foreach (var item in list.Items.Cast<TomlTable>())
        {
            var feature = One(item, features.ToImmutable());
            if (features.Count == 0 && feature.Cut != CutKind.None)
                throw text.Refuse(item.Line, "the first [[part]] is a cut, but there is nothing yet to cut from; a cut removes from the parts before it.");
            features.Add(feature);
        }

        return features.ToImmutable();
    }

    private Feature One(TomlTable table, ImmutableArray<Feature> before)
    {
        var number = before.Length + 1;
        var section = Section.Open(text, table, "[[part]]", Keys, Elsewhere);
        var (outline, shape, turned, lettered) = (section["outline"], section["shape"], section["turned"], section["text"]);
        var given = new[] { outline, shape, turned, lettered }.OfType<TomlEntry>().Select(e => e.Key).ToList();
        if (given.Count != 1)
            throw text.Refuse(table.Line, $"this [[part]] has {(given.Count == 0 ? "neither outline nor shape nor turned nor text" : $"both {given[0]} and {given[1]}")}; give exactly one.");
        if (lettered is null && section["size"] is { } size) throw text.Refuse(size.Line, "size is for text; take it out.");
        if (lettered is null && section["turn"] is { } turn) throw text.Refuse(turn.Line, "turn belongs inside the shape, such as shape = { rectangle = [80, 40], turn = 30 }.");
        if (turned is not null) return Turned(section, turned, Named(section, number), table);
        if (section["axis"] is { } axis) throw text.Refuse(axis.Line, "axis is for a turned part; take it out.");
        if (lettered is null && section["at"] is { } at) throw text.Refuse(at.Line, "at belongs inside the shape, such as shape = { circle = 24, at = [70, 30] }.");
        if (outline is null && section["gap"] is { } gap) throw text.Refuse(gap.Line, "gap is for an outline; a shape has no gaps. Take it out.");

        var name = Named(section, number);
        var (low, high) = Heights(section, table);
        if (lettered is not null) return TextReader.Read(text, section, lettered, new(name, null, [], low, high, section["cut"] is { } sunk ? Cut(sunk) : CutKind.None, Where(table)), before);
        var (layer, loops) = outline is not null ? outlines.Read(outline, section["gap"]) : (null, ShapeReader.Read(text, shape!));
        if (LoopRules.Problem(loops, mm => Values.LengthText(text, mm)) is { } problem)
            throw text.Refuse((outline ?? shape)!.Line, outline is null ? problem : $"{((TomlText)outline.Value).Value}: {problem}");
        return new(
            name,
            layer,
            [.. loops.Select(CounterClockwise)],
            low,
            high,
            section["cut"] is { } cut ? Cut(cut) : CutKind.None,
            Where(table));
    }

    /// <summary>A profile turned about an axis.</summary>
    private Feature Turned(Section section, TomlEntry turned, string name, TomlTable table)
    {
        if (section["z"] is { } z) throw text.Refuse(z.Line, "z is for outlines and shapes; a turned part lies where axis and at put it. Take z out.");
        var way = section["axis"] ?? throw text.Refuse(table.Line, "this turned [[part]] has no axis; write axis = \"x\", \"y\" or \"z\", the way that x of the profile runs.");
        var axis = Values.Word(text, way, "x", "y", "z") switch { "x" => TurnedAxis.X, "y" => TurnedAxis.Y, _ => TurnedAxis.Z };
        var at = section["at"] is { } place ? Values.Point3(text, place.Value, "at") : default;
        var (layer, loops) = turned.Value is TomlText ? outlines.Read(turned, section["gap"]) : (null, ShapeReader.Read(text, turned));
        if (layer is null && section["gap"] is { } gap) throw text.Refuse(gap.Line, "gap is for a drawing; a typed profile has no gaps. Take it out.");
        if (LoopRules.Problem(loops, mm => Values.LengthText(text, mm)) is { } problem) throw text.Refuse(turned.Line, $"turned: {problem}");
        var corners = loops.SelectMany(l => l.Flatten(0.01)).ToList();
        if (corners.Any(c => c.Y < -1e-6))
            throw text.Refuse(turned.Line, $"the profile reaches across the axis, to y = {Values.LengthText(text, corners.Min(c => c.Y))}; y of a profile is the distance from the axis, 0 or more.");
        var (low, high) = axis == TurnedAxis.Z ? (corners.Min(c => c.X), corners.Max(c => c.X)) : (-corners.Max(c => c.Y), corners.Max(c => c.Y));
        return new(
            name, layer, [.. loops.Select(CounterClockwise)], at.Z + low, at.Z + high, section["cut"] is { } cut ? Cut(cut) : CutKind.None, Where(table), new(axis, at));
    }

    private string Named(Section section, int number)
    {
        var name = section["name"] is { } n ? Values.Line(text, n, 100) : $"part {number}";
        return Places.Contains(name)
            ? throw text.Refuse(section["name"]!.Value.Line, $"a part cannot be named \"{name}\", since stock uses that word for a place; choose another.")
            : name;
    }

    private string Where(TomlTable table) => $"{Path.GetFileName(text.Source)}, line {table.Line}";

    private (double Low, double High) Heights(Section section, TomlTable table)
    {
        const string example = "z = [low, high], such as z = [0, 12]";
        var z = section["z"] ?? throw text.Refuse(table.Line, $"this [[part]] has no z; write {example}.");
        var ends = Values.Items(text, z.Value, "z", 2, 2, example);
        var low = Values.Length(text, ends[0], "low of z", -LargestHeight_mm, LargestHeight_mm);
        var high = Values.Length(text, ends[1], "high of z", -LargestHeight_mm, LargestHeight_mm);
        if (high < low) throw text.Refuse(z.Value.Line, "z has its low end above its high end; write the lower height first.");
        return high - low >= 0.001 ? (low, high) : throw text.Refuse(z.Value.Line, $"z has no height between its ends; write {example}.");
    }

    private CutKind Cut(TomlEntry cut) => Values.Word(text, cut, "drawn", "cored", "machined") switch
    {
        "drawn" => CutKind.Drawn,
        "cored" => CutKind.Cored,
        _ => CutKind.Machined,
    };

    private static PlanPath CounterClockwise(PlanPath loop) => loop.SignedArea() >= 0 ? loop : loop.Reversed();
}
