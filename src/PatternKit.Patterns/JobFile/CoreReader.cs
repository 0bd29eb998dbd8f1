namespace PatternKit.Patterns.JobFile;

/// <summary>Reads [cores]: print, clearance, box.</summary>
internal static class CoreReader
{
    /// <summary>The settings; null by rule.</summary>
    /// <exception cref="Exchange.InputException">A key or value that cannot be used, or a part without cored cuts of its own.</exception>
    public static CoreSettings? Read(JobText text, TomlEntry? entry, bool isMesh)
    {
        if (entry is null) return null;
        if (isMesh) throw text.Refuse(entry.Line, "\"cores\": cores of a part that is a mesh are not in this release. Take it out.");
        var s = Section.Open(text, entry, "[cores]", ["print", "clearance", "box"], "[cores] once, with its keys below it");
        return new(Length("print", 1, 1000), Length("clearance", 0, 10)) { BoxesInHalves = s["box"] is { } box && Values.Word(text, box, "auto", "halves") == "halves" };

        double? Length(string key, double low, double high) =>
            s[key] is { } e && !Values.Is(e.Value, "auto") ? Values.Length(text, e.Value, $"{key} of [cores]", low, high) : null;
    }
}
