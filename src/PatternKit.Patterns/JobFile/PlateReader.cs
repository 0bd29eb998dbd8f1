using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads <c>plate = "match"</c>, <c>"boards"</c> or <c>"none"</c>, or [plate]: kind, size, thickness, fillet, pins.</summary>
internal static class PlateReader
{
    private const string Example = "[plate] with its keys below it, or plate = \"match\" before the first table";

    private static readonly string[] Keys = ["kind", "size", "thickness", "fillet", "pins"];

    /// <summary>The settings; null for loose patterns.</summary>
    /// <exception cref="Exchange.InputException">A key or value that cannot be used, or a part that cannot stand on a plate.</exception>
    public static PlateSettings? Read(JobText text, TomlEntry? entry, bool isMesh)
    {
        if (entry is null || Values.Is(entry.Value, "none")) return null;
        if (isMesh) throw text.Refuse(entry.Line, "\"plate\": a part that is a mesh is moulded with loose patterns in this release. Take it out.");
        if (entry.Value is TomlText) return new(Kind(text, entry));
        var s = Section.Open(text, entry, "[plate]", Keys, Example);
        return new(
            s["kind"] is { } kind ? Kind(text, kind) : PlateKind.Match,
            Given(s["size"]) is { } size ? Size(text, size) : null,
            Given(s["thickness"]) is { } thickness ? Values.Length(text, thickness, "thickness of [plate]", 4, 100) : null,
            Given(s["fillet"]) is { } fillet ? Values.Is(fillet, "none") ? 0 : Values.Length(text, fillet, "fillet of [plate]", 0, 10) : null,
            s["pins"] is { } pins && !Values.Is(pins.Value, "none") ? Pins(text, pins.Value) : []);
    }

    private static TomlNode? Given(TomlEntry? entry) => entry is null || Values.Is(entry.Value, "auto") ? null : entry.Value;

    private static PlateKind Kind(JobText text, TomlEntry entry) => Values.Word(text, entry, "match", "boards") == "match" ? PlateKind.Match : PlateKind.Boards;

    private static (double, double) Size(JobText text, TomlNode node)
    {
        var items = Values.Items(text, node, "size of [plate]", 2, 2, "[300, 200]: along x and along y");
        return (Values.Length(text, items[0], "length in size of [plate]", 20, 2000), Values.Length(text, items[1], "width in size of [plate]", 20, 2000));
    }

    private static ImmutableArray<FlaskPin> Pins(JobText text, TomlNode node)
    {
        const string example = "pins = [{ at = [-160, 0], diameter = 10 }, { at = [160, 0], diameter = 8 }], from the middle of the plate";
        return
        [
            .. Values.Items(text, node, "pins of [plate]", 1, 8, example).Select(item =>
            {
                if (item is not TomlTable table) throw text.Refuse(item.Line, $"a pin of [plate] is {item.Kind}; write {example}.");
                var s = Section.Open(text, table, "a pin of [plate]", ["at", "diameter"]);
                if (s["at"] is not { } at || s["diameter"] is not { } diameter) throw text.Refuse(item.Line, $"a pin of [plate] has a place and a diameter; write {example}.");
                return new FlaskPin(Values.Point(text, at.Value, "at of a pin"), Values.Length(text, diameter.Value, "diameter of a pin", 1, 60));
            }),
        ];
    }
}
