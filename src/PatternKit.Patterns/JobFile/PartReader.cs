using System.Collections.Immutable;
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

    private static readonly string[] Keys = ["name", "outline", "shape", "z", "cut", "gap"];

    private static readonly IReadOnlyDictionary<string, string> Elsewhere = new Dictionary<string, string>(
        Later.PartKinds.Concat(new[] { "at", "turn", "corner", "circle", "rectangle", "slot", "polygon", "path" }.Select(k =>
            KeyValuePair.Create(k, "it belongs inside the shape, such as shape = { circle = 24, at = [70, 30] }."))));

    /// <summary>Reads all parts; there is at least one, and one that adds metal comes first.</summary>
    public ImmutableArray<Feature> Read(TomlEntry? parts)
    {
        if (parts is null) throw text.Refuse(0, "the job has no [[part]]; a part is made of at least one, with outline or shape, and z.");
        if (parts.Value is not TomlList { OfHeaders: true } list) throw text.Refuse(parts.Line, "part is written in double brackets, once for every feature: [[part]].");
        if (list.Items.Length > MostParts) throw text.Refuse(parts.Line, $"the job has {list.Items.Length} [[part]] tables; at most {MostParts}.");
        var features = ImmutableArray.CreateBuilder<Feature>();
        foreach (var item in list.Items.Cast<TomlTable>())
        {
            var feature = One(item, features.Count + 1);
            if (features.Count == 0 && feature.Cut != CutKind.None)
                throw text.Refuse(item.Line, "the first [[part]] is a cut, but there is nothing yet to cut from; a cut removes from the parts before it.");
            features.Add(feature);
        }

        return features.ToImmutable();
    }

    private Feature One(TomlTable table, int number)
    {
        var section = Section.Open(text, table, "[[part]]", Keys, Elsewhere);
        var (outline, shape) = (section["outline"], section["shape"]);
        if ((outline is null) == (shape is null))
            throw text.Refuse(table.Line, $"this [[part]] has {(outline is null ? "neither outline nor shape" : "both outline and shape")}; give exactly one.");
        if (shape is not null && section["gap"] is { } gap) throw text.Refuse(gap.Line, "gap is for an outline; a shape has no gaps. Take it out.");

        var name = section["name"] is { } n ? Values.Line(text, n, 100) : $"part {number}";
        if (Places.Contains(name)) throw text.Refuse(section["name"]!.Value.Line, $"a part cannot be named \"{name}\", since stock uses that word for a place; choose another.");
        var (low, high) = Heights(section, table);
        var (layer, loops) = outline is not null ? outlines.Read(outline, section["gap"]) : (null, ShapeReader.Read(text, shape!));
        if (LoopCheck.Problem(loops, mm => Values.LengthText(text, mm)) is { } problem)
            throw text.Refuse((outline ?? shape)!.Line, outline is null ? problem : $"{((TomlText)outline.Value).Value}: {problem}");
        return new(
            name,
            layer,
            [.. loops.Select(CounterClockwise)],
            low,
            high,
            section["cut"] is { } cut ? Cut(cut) : CutKind.None,
            $"{Path.GetFileName(text.Source)}, line {table.Line}");
    }

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
