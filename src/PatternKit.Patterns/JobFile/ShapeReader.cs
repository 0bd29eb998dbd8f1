using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads <c>shape = { … }</c> into closed loops, millimetres of the part.</summary>
internal static class ShapeReader
{
    private const string Example = "shape = { circle = 24, at = [70, 30] }";
    private static readonly string[] Kinds = ["circle", "rectangle", "slot", "polygon", "path"];

    /// <summary>One loop for every place of the shape.</summary>
    public static ImmutableArray<PlanPath> Read(JobText text, TomlEntry entry)
    {
        var section = Section.Open(text, entry, entry.Key, [.. Kinds, "at", "corner", "turn"], Example);
        var kinds = Kinds.Where(k => section[k] is not null).ToList();
        if (kinds.Count != 1)
            throw text.Refuse(entry.Line, $"{entry.Key} has {(kinds.Count == 0 ? "no kind" : string.Join(" and ", kinds))}; give exactly one of {string.Join(", ", Kinds)}, as in {Example}.");
        var kind = kinds[0];
        if (section["corner"] is { } stray && kind != "rectangle")
            throw text.Refuse(stray.Line, $"corner is for a rectangle, not for a {kind}; take it out.");
        if (section["turn"] is { } idle && kind == "circle")
            throw text.Refuse(idle.Line, "turn does nothing to a circle; take it out.");

        var node = section[kind]!.Value;
        var path = kind switch
        {
            "circle" => PlanPath.Circle(default, Values.Size(text, node, "circle (diameter)")),
            "rectangle" => Rectangle(text, node, section["corner"]),
            "slot" => Slot(text, node),
            _ => Path(text, node, kind),
        };
        var turn = section["turn"] is { } t ? Values.Angle(text, t.Value, "turn") : 0;
        return [.. Placing.Read(text, section["at"], turn).Select(p => kind == "circle" ? (p with { Turn = 0 }).Put(path) : p.Put(path))];
    }

    private static PlanPath Rectangle(JobText text, TomlNode node, TomlEntry? rounded)
    {
        var sides = Values.Items(text, node, "rectangle", 2, 2, "rectangle = [width, height]");
        var width = Values.Size(text, sides[0], "width of rectangle");
        var height = Values.Size(text, sides[1], "height of rectangle");
        var corner = rounded is null ? 0 : Values.Length(text, rounded.Value, "corner (radius)", 0);
        return corner <= Math.Min(width, height) / 2
            ? ShapePaths.Rectangle(width, height, corner)
            : throw text.Refuse(rounded!.Value.Line, $"corner = {rounded.Value.Quoted} is more than half the shorter side; at most {Values.LengthText(text, Math.Min(width, height) / 2)}.");
    }

    private static PlanPath Slot(JobText text, TomlNode node)
    {
        var sizes = Values.Items(text, node, "slot", 2, 2, "slot = [length over ends, width]");
        var length = Values.Size(text, sizes[0], "length of slot");
        var width = Values.Size(text, sizes[1], "width of slot");
        return length > width
            ? ShapePaths.Slot(length, width)
            : throw text.Refuse(node.Line, "the slot is not longer over its ends than it is wide; write [length over ends, width], or a circle.");
    }

    private static PlanPath Path(JobText text, TomlNode node, string kind)
    {
        var arcs = kind == "path";
        var example = arcs ? "[[x, y], [x, y, bulge], …]" : "[[x, y], [x, y], [x, y]]";
        var items = Values.Items(text, node, kind, arcs ? 2 : 3, 10_000, example);
        var vertices = new List<PlanVertex>(items.Count);
        for (var i = 0; i < items.Count; i++)
        {
            var what = $"point {i + 1} of {kind}";
            var parts = Values.Items(text, items[i], what, 2, arcs ? 3 : 2, arcs ? "[x, y] or [x, y, bulge]" : "[x, y]");
            var point = new Vec2(Values.Length(text, parts[0], $"x of {what}"), Values.Length(text, parts[1], $"y of {what}"));
            // A bulge of 100 is an arc of 357.7°.
            var bulge = parts.Count == 3 ? Values.Plain(text, parts[2], $"bulge of {what}", -100, 100) : 0;
            if (vertices.Count > 0 && vertices[^1].Point == point)
                throw text.Refuse(items[i].Line, $"{what} repeats the point before it; take one out.");
            vertices.Add(new(point, bulge));
        }

        if (vertices.Count > 2 && vertices[^1].Point == vertices[0].Point && vertices[^1].Bulge == 0)
        {
            vertices.RemoveAt(vertices.Count - 1);
            text.Note(node.Line, $"{kind} repeats its first point at the end; the repetition is left out, since it is closed anyway.");
        }

        for (var i = 0; i < vertices.Count; i++)
        {
            var chord = Vec2.Distance(vertices[i].Point, vertices[(i + 1) % vertices.Count].Point);
            // An arc that leaves its chord by less than a nanometre is a straight; its centre would be lost in rounding.
            if (vertices[i].Bulge != 0 && Math.Abs(vertices[i].Bulge) * chord / 2 < 1e-6)
            {
                text.Note(items[i].Line, $"bulge of point {i + 1} of {kind} is next to nothing; the segment is made straight.");
                vertices[i] = vertices[i] with { Bulge = 0 };
            }
        }

        return new([.. vertices], true);
    }
}
