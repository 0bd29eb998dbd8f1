using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>Where a copy of a shape goes: turned about its own origin, then shifted.</summary>
internal readonly record struct Placing(Vec2 At, double Turn)
{
    private const string Example = "[x, y], [[x, y], [x, y]] or { circle = diameter, count = 4 }";

    /// <summary>
    /// Reads <c>at</c>: one point, a list of points, or a bolt circle
    /// <c>{ circle = diameter, count = n, centre = [x, y], start = angle }</c>. Copies round a circle are turned with it.
    /// The origin when left out.
    /// </summary>
    public static ImmutableArray<Placing> Read(JobText text, TomlEntry? at, double turn)
    {
        if (at is null) return [new(default, turn)];
        switch (at.Value)
        {
            case TomlTable table:
                return Circle(text, table, turn);
            case TomlList { Items: [TomlList, ..] } list:
                var points = Values.Items(text, list, "at", 1, 1000, Example);
                return [.. points.Select(p => new Placing(Values.Point(text, p, "at"), turn))];
            case TomlList { Items: [not TomlTable, _] } one:
                return [new(Values.Point(text, one, "at"), turn)];
            default:
                throw text.Refuse(at.Value.Line, $"at is not a place; write {Example}.");
        }
    }

    /// <summary>The path in its place. Turned vertices are rounded to 1e-9 mm, so that quarter turns give round numbers.</summary>
    public PlanPath Put(PlanPath path)
    {
        if (Turn == 0) return path.Transformed(1, 0, At);
        var placed = path.Transformed(1, Turn, At);
        return new([.. placed.Vertices.Select(v => v with { Point = Round(v.Point) })], placed.IsClosed);
    }

    private static ImmutableArray<Placing> Circle(JobText text, TomlTable table, double turn)
    {
        var section = Section.Open(text, table, "at = { … }", ["circle", "count", "centre", "start"]);
        var circle = section["circle"] ?? throw text.Refuse(section.Line, $"at lacks circle, the diameter that the copies stand on; write {Example}.");
        var counted = section["count"] ?? throw text.Refuse(section.Line, $"at lacks count, the number of copies; write {Example}.");
        var radius = Values.Size(text, circle.Value, "circle of at") / 2;
        var count = Values.Count(text, counted.Value, "count of at", 1, 360);
        var centre = section["centre"] is { } c ? Values.Point(text, c.Value, "centre of at") : default;
        var start = section["start"] is { } s ? Values.Angle(text, s.Value, "start of at") : 0;
        return
        [
            .. Enumerable.Range(0, count).Select(i =>
            {
                var angle = start + (2 * Math.PI * i / count);
                var (sin, cos) = Math.SinCos(angle);
                return new Placing(Round(centre + new Vec2(radius * cos, radius * sin)), turn + angle);
            }),
        ];
    }

    private static Vec2 Round(Vec2 p) => new(Math.Round(p.X, 9) + 0.0, Math.Round(p.Y, 9) + 0.0);
}
