using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads the [[loose]] tables: bosses and lips on side walls that are drawn sideways after the main pattern.</summary>
internal sealed class LooseReader(JobText text, OutlineReader outlines)
{
    private const string Facing = "facing = \"+x\" or facing = 30, degrees from x towards y";

    private const int Most = 50;

    private static readonly string[] Keys = ["name", "outline", "shape", "gap", "facing", "at", "out", "held", "stock"];

    private static readonly IReadOnlyDictionary<string, string> Elsewhere = new Dictionary<string, string>(
        new[] { "z", "cut", "turned", "text", "axis", "mesh" }.Select(k => KeyValuePair.Create(k, "a loose piece is an outline that stands out from a wall: give shape or outline, facing, at and out. Take it out."))
        .Concat(new[] { "corner", "circle", "rectangle", "slot", "polygon", "path" }.Select(k => KeyValuePair.Create(k, "it belongs inside the shape, such as shape = { circle = 24 }."))));

    /// <summary>The pieces; none when left out.</summary>
    public ImmutableArray<LoosePart> Read(TomlEntry? entry, bool isMesh, bool onPlate)
    {
        if (entry is null) return [];
        if (entry.Value is not TomlList { OfHeaders: true } list) throw text.Refuse(entry.Line, "loose is written in double brackets, once for every loose piece: [[loose]].");
        if (isMesh) throw text.Refuse(entry.Line, "[[loose]] is for parts given as outlines, and this part is a mesh. Take it out; what hangs over on a mesh is filled and told.");
        if (onPlate) throw text.Refuse(entry.Line, "[[loose]] is for patterns that are moulded loose: on a plate they are not made in this release. Write plate = \"none\".");
        if (list.Items.Length > Most) throw text.Refuse(entry.Line, $"the job has {list.Items.Length} [[loose]] tables; at most {Most}.");
        var pieces = ImmutableArray.CreateBuilder<LoosePart>();
        foreach (var table in list.Items.Cast<TomlTable>())
        {
            var piece = One(table, pieces.Count + 1);
            if (pieces.Any(p => string.Equals(JobName.Safe(p.Name), JobName.Safe(piece.Name), StringComparison.OrdinalIgnoreCase)))
                throw text.Refuse(table.Line, $"two loose pieces are named \"{piece.Name}\", and files are named by it; give each its own name.");
            pieces.Add(piece);
        }

        return pieces.ToImmutable();
    }

    private LoosePart One(TomlTable table, int number)
    {
        var s = Section.Open(text, table, "[[loose]]", Keys, Elsewhere);
        var (shape, outline) = (s["shape"], s["outline"]);
        if ((shape is null) == (outline is null)) throw text.Refuse(table.Line, $"this [[loose]] has {(shape is null ? "neither shape nor outline" : "both shape and outline")}; give exactly one, as seen from outside.");
        if (outline is null && s["gap"] is { } gap) throw text.Refuse(gap.Line, "gap is for an outline; a shape has no gaps. Take it out.");
        var loops = outline is not null ? outlines.Read(outline, s["gap"]).Loops : ShapeReader.Read(text, shape!);
        if (LoopRules.Problem(loops, mm => Values.LengthText(text, mm)) is { } problem) throw text.Refuse((outline ?? shape)!.Line, $"[[loose]]: {problem}");
        var at = s["at"] ?? throw text.Refuse(table.Line, "this [[loose]] has no at; write at = [x, y, z], where the origin of its outline lies on the wall of the finished part.");
        var far = s["out"] ?? throw text.Refuse(table.Line, "this [[loose]] has no out; write such as out = 12, how far its outer face stands out from the wall of the finished part.");
        return new(
            s["name"] is { } n ? Values.Line(text, n, 40) : $"piece {number}",
            loops,
            Direction(s["facing"] ?? throw text.Refuse(table.Line, $"this [[loose]] has no facing; write {Facing}, the way that it stands out.")),
            Values.Point3(text, at.Value, "at"),
            Values.Size(text, far.Value, "out"),
            $"{Path.GetFileName(text.Source)}, line {table.Line}")
        {
            Held = s["held"] is not { } held ? null : Values.Word(text, held, "auto", "dovetail", "pin") switch { "dovetail" => LooseHold.Dovetail, "pin" => LooseHold.Pin, _ => null },
            Stock_mm = s["stock"] is { } stock ? Values.Length(text, stock.Value, "stock", 0, 100) : null,
        };
    }

    /// <summary>In plan: a wall that it stands on is upright but for its draft.</summary>
    private Vec2 Direction(TomlEntry entry)
    {
        if (entry.Value is not TomlText { Value: [_, 'x' or 'y' or 'z'] }) return Turned(Values.Angle(text, entry.Value, "facing"));
        var way = Directions.Read(text, entry);
        return way.Z == 0 ? way.Plan : throw text.Refuse(entry.Value.Line, $"facing = {entry.Value.Quoted} is along the draw, and a loose piece is drawn sideways; write {Facing}.");
    }

    private static Vec2 Turned(double angle) => new(Math.Cos(angle), Math.Sin(angle));
}
