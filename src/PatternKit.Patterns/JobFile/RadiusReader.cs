using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>fillet</c> and <c>round</c>: <c>"auto"</c>, <c>"none"</c>, one radius, or <c>{ NAME = … }</c> where NAME is a feature, a layer or the named faces of a mesh, whose
/// walls or edges get it. Fillets of others then go by rule; edges of others stay sharp.
/// </summary>
internal static class RadiusReader
{
    private const double Largest_mm = 100;

    /// <summary>The radii of fillets asked for; null by rule.</summary>
    public static RadiusSettings? Fillets(JobText text, TomlEntry entry, IReadOnlyList<string> known) =>
        Values.Is(entry.Value, "auto") ? null : Read(text, entry, known, null);

    /// <summary>The radii of edges asked for.</summary>
    public static RadiusSettings Rounds(JobText text, TomlEntry entry, IReadOnlyList<string> known) => Read(text, entry, known, 0);

    private static RadiusSettings Read(JobText text, TomlEntry entry, IReadOnlyList<string> known, double? others_mm)
    {
        var key = entry.Key;
        if (entry.Value is not TomlTable table) return new(Radius(text, entry.Value, key), ImmutableDictionary<string, double>.Empty);
        var names = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (var e in table.Entries)
        {
            var name = FeatureNames.Find(text, e, key, known, []);
            if (names.ContainsKey(name)) throw text.Refuse(e.Line, $"{key} names \"{name}\" twice; keep one.");
            if (Radius(text, e.Value, $"{key} {Show.Short(e.Key)}") is { } radius) names.Add(name, radius);
        }

        return new(others_mm, names.ToImmutable());
    }

    private static double? Radius(JobText text, TomlNode node, string what) =>
        Values.Is(node, "auto") ? null : Values.Is(node, "none") ? 0 : Values.Length(text, node, what, 0, Largest_mm);
}
