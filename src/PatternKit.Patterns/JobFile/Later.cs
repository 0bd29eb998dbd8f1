namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Parts of the job language that this release knows by name but does not build yet. Each is refused, never ignored:
/// a kit that silently lacks its feeders would be a wrong kit. A release that can do one removes it here.
/// </summary>
internal static class Later
{
    private const string NotYet = "not in this release. Take it out; the kit is made without it.";

    /// <summary>Top-level tables.</summary>
    public static IReadOnlyDictionary<string, string> Tables { get; } = new[] { "flask" }
        .Select(k => KeyValuePair.Create(k, NotYet)).Append(new("printer", "it belongs to the shop, not to a job. Write [printer] into shop.toml.")).ToDictionary();

    /// <summary>Keys of a [[part]] that is a mesh.</summary>
    public static IReadOnlyDictionary<string, string> MeshPartKeys { get; } = new Dictionary<string, string>(
        new[] { "outline", "shape", "turned", "text" }.Select(k => KeyValuePair.Create(k, "a mesh is a [[part]] of its own. Take one of the two out."))
        .Concat(new[] { "z", "cut", "axis", "turn", "size", "gap" }.Select(k => KeyValuePair.Create(k, "it is not for a mesh, which is the whole part as it is. Take it out."))));

    /// <summary>Keys of [parting].</summary>
    public static IReadOnlyDictionary<string, string> PartingKeys { get; } = new Dictionary<string, string>
    {
        ["joint"] = "it is about meshes: the joint of outlines is flat. Take it out.",
        ["levels"] = "it is about meshes: the joint of outlines is flat. Take it out.",
        ["step_draft"] = "it is about meshes: the joint of outlines is flat. Take it out.",
        ["follow_board"] = "it is about meshes: the joint of outlines is flat, and is rammed on a flat board. Take it out.",
        ["recess"] = "it is about meshes. Take it out; a recess of outlines is a [[part]] with cut = \"drawn\".",
    };
}
