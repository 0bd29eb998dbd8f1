using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Meshes;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>faces</c> of a mesh: <c>{ NAME = { box = [[x, y, z], [x, y, z]] }, NAME = { plane = [x, y, z], facing = "+z" } }</c>, places as the part lies.
/// </summary>
internal static class FaceReader
{
    private const string Example = "faces = { seat = { box = [[-10, -10, 38], [10, 10, 42]] } }";

    /// <summary>The named faces; none when left out.</summary>
    public static ImmutableArray<FaceRegion> Read(JobText text, TomlEntry? entry)
    {
        if (entry is null) return [];
        if (entry.Value is not TomlTable table) throw text.Refuse(entry.Value.Line, $"faces is {entry.Value.Kind}; write such as {Example}.");
        return [.. table.Entries.Select(e => One(text, e))];
    }

    private static FaceRegion One(JobText text, TomlEntry entry)
    {
        var what = $"faces {Show.Short(entry.Key)}";
        if (PartReader.Places.Contains(entry.Key)) throw text.Refuse(entry.Line, $"\"{entry.Key}\" is a word of stock itself; give these faces another name.");
        var s = Section.Open(text, entry, what, ["box", "plane", "facing"], Example);
        if ((s["box"] is null) == (s["plane"] is null)) throw text.Refuse(entry.Line, $"{what} needs one of box and plane; write such as {Example}.");
        Vec3? facing = s["facing"] is { } f ? (Directions.Read(text, f) is var d ? 1 / d.Length * d : default) : null;
        var where = $"{Path.GetFileName(text.Source)}, line {entry.Line}";
        if (s["plane"] is { } plane)
        {
            return facing is null
                ? throw text.Refuse(entry.Line, $"{what}: a plane needs the side that its faces look to, such as {entry.Key} = {{ plane = [0, 0, 40], facing = \"+z\" }}.")
                : new(entry.Key, null, Values.Point3(text, plane.Value, $"plane of {what}"), facing, where);
        }

        var corners = Values.Items(text, s["box"]!.Value, $"box of {what}", 2, 2, Example);
        var (p, q) = (Values.Point3(text, corners[0], $"box of {what}"), Values.Point3(text, corners[1], $"box of {what}"));
        return new(entry.Key, Box3.Empty.With(p).With(q), default, facing, where);
    }
}
