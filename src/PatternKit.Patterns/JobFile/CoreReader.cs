using PatternKit.Patterns.Meshes;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads [cores]: print, clearance, box of outlines; of a mesh what of its undercuts is left to cores.</summary>
internal static class CoreReader
{
    private const string Example = "undercuts = \"auto\", or undercuts = [[0, 40, 12]] with a place in it that \"patternkit check\" tells";

    /// <summary>So many undercuts can be named.</summary>
    private const int Most = 50;

    /// <summary>The settings; null by rule.</summary>
    /// <exception cref="Exchange.InputException">A key or value that cannot be used.</exception>
    public static CoreSettings? Read(JobText text, TomlEntry? entry, PartMesh? mesh, bool original)
    {
        if (entry is null) return null;
        if (original) throw text.Refuse(entry.Line, "\"cores\": cores go with a pattern that is made; with original = true the part itself is the pattern. Take it out.");
        var s = Section.Open(text, entry, "[cores]", mesh is null ? ["print", "clearance", "box"] : ["print", "clearance", "undercuts"], "[cores] once, with its keys below it");
        return new(Length("print", 1, 1000), Length("clearance", 0, 10))
        {
            BoxesInHalves = s["box"] is { } box && Values.Word(text, box, "auto", "halves") == "halves",
            Undercuts = mesh is not null && s["undercuts"] is { } undercuts ? Chosen(text, undercuts, mesh) : null,
        };

        double? Length(string key, double low, double high) =>
            s[key] is { } e && !Values.Is(e.Value, "auto") ? Values.Length(text, e.Value, $"{key} of [cores]", low, high) : null;
    }

    private static UndercutChoice? Chosen(JobText text, TomlEntry entry, PartMesh mesh)
    {
        if (Values.Is(entry.Value, "none")) return null;
        if (Values.Is(entry.Value, "auto")) return new(true, []);
        if (entry.Value is not TomlList) throw text.Refuse(entry.Value.Line, $"undercuts = {entry.Value.Quoted} is no choice; write {Example}, or \"none\".");
        return new(false, [.. Values.Items(text, entry.Value, "undercuts", 1, Most, Example).Select(One)]);

        UndercutPick One(TomlNode item)
        {
            var where = $"{Path.GetFileName(text.Source)}, line {item.Line}";
            if (item is not TomlText name) return new(Values.Point3(text, item, "a place of undercuts"), null, where);
            var faces = mesh.Faces.FirstOrDefault(f => f.Name == name.Value)
                ?? throw text.Refuse(item.Line, $"undercuts: no faces are called \"{Show.Short(name.Value)}\"; {(mesh.Faces.IsEmpty ? "name some under faces of [[part]], or give a place" : $"there are {string.Join(", ", mesh.Faces.Select(f => f.Name))}")}.");
            return new(null, faces, where);
        }
    }
}
