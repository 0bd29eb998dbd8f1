using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Meshes;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads the one [[part]] that is a mesh: <c>mesh = "bracket.stl"</c>, with the unit of a file that states none, the direction of the file that
/// points up, and the place of the file's origin. Left out, it lies as in the file, so that heights and places of the job are those that the
/// user reads in the program that made it; "patternkit parting" tells directions to write.
/// </summary>
internal sealed class MeshPartReader(JobText text, InputFiles files)
{
    private const string Example = "mesh = \"bracket.stl\"";

    private static readonly string[] Keys = ["name", "mesh", "unit", "lie", "at", "faces"];

    /// <summary>Of [pattern], what an original is held against.</summary>
    private static readonly string[] OriginalKeys = ["draft", "contraction", "rapping"];

    /// <summary>The mesh of a job that has one; null where the parts are features.</summary>
    public PartMesh? Read(TomlEntry? parts)
    {
        if (parts?.Value is not TomlList { OfHeaders: true } list) return null;
        var tables = list.Items.Cast<TomlTable>().ToArray();
        if (tables.FirstOrDefault(IsMesh) is not { } table) return null;
        if (tables.Length > 1)
            throw text.Refuse(tables.First(t => t != table).Line, "a mesh stands alone in this release: no other [[part]] can be joined to it or cut from it. Take the others out, or model them in the mesh.");
        var s = Section.Open(text, table, "[[part]] with a mesh", Keys, Later.MeshPartKeys);
        var entry = s["mesh"]!;
        var name = s["name"] is { } n ? Values.Line(text, n, 100) : "part 1";
        Vec3? lie = s["lie"] is { } l ? Directions.Read(text, l) : null;
        var at = s["at"] is { } a ? Values.Point3(text, a.Value, "at") : default;
        if (entry.Value is not TomlText file) throw text.Refuse(entry.Value.Line, $"mesh is {entry.Value.Kind}; write {Example}.");
        if (MeshFile.ByEnding(file.Value) is not { } format)
            throw text.Refuse(entry.Value.Line, $"mesh = \"{Show.Short(file.Value)}\" is no mesh that is read here; name a file that ends in .stl, .obj or .3mf.");
        if (format == MeshFormat.ThreeMf && s["unit"] is { } needless) throw text.Refuse(needless.Line, "3MF states its own unit; take unit out.");
        var inch = s["unit"] is { } unit ? Values.Word(text, unit, "mm", "in") == "in" : text.Unit == LengthUnit.Inch;
        var content = files.Drawing(file.Value, problem => text.Refuse(entry.Value.Line, problem));
        var read = MeshFile.Read(content, file.Value, format == MeshFormat.ThreeMf ? null : inch ? 25.4 : 1);
        text.Note(read.Notes);
        if (format != MeshFormat.ThreeMf && s["unit"] is null)
            text.Note([new ReadNote(file.Value, 0, $"the file says no unit; the job's ({(inch ? "inches" : "millimetres")}) is taken.")]);
        var mended = MeshMending.Mend(read.Value);
        text.Note(MendingNotes.Of(mended.Report, file.Value));
        if (!mended.Report.IsMended) throw text.Refuse(entry.Value.Line, $"{file.Value}: {MeshFindings.Open(mended.Report).Message} {MeshFindings.Open(mended.Report).Remedy}");
        var frame = lie is { } up ? DirectionFrame.Along(up) : (DirectionFrame?)null;
        var body = frame is null && at == default ? mended.Mesh : mended.Mesh.Mapped(v => (frame?.FromSpace(v) ?? v) + at);
        return new(name, file.Value, body, lie, $"{Path.GetFileName(text.Source)}, line {table.Line}") { Faces = FaceReader.Read(text, s["faces"]) };
    }

    /// <summary>Refuses what a job with a mesh asks for and cannot have, after all has been read.</summary>
    /// <param name="root">The job.</param>
    /// <param name="pattern">[pattern] as read.</param>
    /// <param name="parting">[parting] as read.</param>
    /// <param name="original">Whether the part itself is the pattern.</param>
    public void Check(Section root, PatternSettings pattern, PartingSettings parting, bool original)
    {
        var given = Entries(root["pattern"]);
        if (original)
        {
            foreach (var (key, line) in given.OrderBy(e => e.Value))
                if (!OriginalKeys.Contains(key)) throw text.Refuse(line, $"\"{key}\" is for a pattern that is made; with original = true the part itself is the pattern, and of [pattern] only {string.Join(", ", OriginalKeys)} mean anything. Take it out.");
        }

        Refuse(pattern.Stock is { } stock && (stock.Holes_mm > 0 || stock.ByRule?.Contains("holes") == true) && !IsForAll(stock), "stock", "which faces of a mesh are holes is not known in this release. Name them under faces in [[part]] and put stock on that name.");
        Refuse(
            pattern.Holds != SizeHolds.Tip && parting.Joint != JointKind.Flat, given.ContainsKey("taper") ? "taper" : "hold",
            "on a joint that is not flat meshes get taper = \"plus\" only in this release: metal is added, and sizes hold at the tip. Part on a flat joint, or give the walls their taper about the joint in the program that the mesh comes from, with the angle of draft: what has that draft is left as it is.");
        Refuse(pattern.DraftInside is not null && pattern.DraftInside != pattern.DraftOutside, "draft", "a mesh has one draft for all its walls in this release; write one angle, such as draft = 2, or draft = { outside = 2 }.");
        Refuse(!original && pattern.Rapping_mm is > 0, "rapping", "nothing is taken off meshes against rapping in this release. Write rapping = 0, or take it out.");
        Refuse(pattern.Camber is not null, "camber", "meshes are not bent in this release. Take it out.");
        given = Entries(root["parting"]);
        Refuse(original && parting.Joint != JointKind.Flat, "joint", "the part itself is judged on a flat joint. Take it out; \"check\" tells how far its edge lies off one.");
        Refuse(parting.Match, "match", "the halves of a mesh are not matched in this release. Take it out.");

        void Refuse(bool isAsked, string key, string why)
        {
            if (isAsked) throw text.Refuse(given.TryGetValue(key, out var line) ? line : 0, $"\"{key}\": {why}");
        }
    }

    /// <summary>One figure for every face: holes are among the sides then.</summary>
    private static bool IsForAll(StockSettings s) =>
        s.Names_mm is null && s.Holes_mm == s.Sides_mm && s.Top_mm == s.Sides_mm && s.Bottom_mm == s.Sides_mm && (s.ByRule is null || PartReader.Places.All(s.ByRule.Contains));

    /// <summary>Whether a [[part]] is a mesh.</summary>
    private static bool IsMesh(TomlTable table) => table.Entries.Any(e => e.Key == "mesh");

    private static Dictionary<string, int> Entries(TomlEntry? table) =>
        table?.Value is TomlTable t ? t.Entries.ToDictionary(e => e.Key, e => e.Line, StringComparer.Ordinal) : [];
}
