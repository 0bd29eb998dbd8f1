namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Parts of the job language that this release knows by name but does not build yet. Each is refused, never ignored:
/// a kit that silently lacks its feeders would be a wrong kit. A release that can do one removes it here.
/// </summary>
internal static class Later
{
    private const string NotYet = "not in this release. Take it out; the kit is made without it.";

    /// <summary>Top-level tables.</summary>
    public static IReadOnlyDictionary<string, string> Tables { get; } = new[] { "feeding", "cores", "plate", "printer", "flask", "sheet" }
        .ToDictionary(k => k, _ => NotYet);

    /// <summary>Kinds of [[part]].</summary>
    public static IReadOnlyDictionary<string, string> PartKinds { get; } = new[] { "mesh" }
        .ToDictionary(k => k, _ => "not in this release, which makes parts of outlines and typed shapes only. Use outline = \"file.dxf#LAYER\" or shape = { … }.");

    /// <summary>Keys of [parting].</summary>
    public static IReadOnlyDictionary<string, string> PartingKeys { get; } = new Dictionary<string, string>
    {
        ["recess"] = "it is about meshes, and this release makes parts of outlines and typed shapes only. Take it out; a recess is a [[part]] with cut = \"drawn\".",
    };
}
