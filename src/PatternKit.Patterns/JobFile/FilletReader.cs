using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>fillet</c>: <c>"auto"</c>, <c>"none"</c>, one radius, or <c>{ NAME = … }</c> where NAME is a feature or a layer whose walls get
/// it; the others go by rule.
/// </summary>
internal static class FilletReader
{
    private const double Largest_mm = 100;

    /// <summary>The radii asked for; null by rule.</summary>
    public static FilletSettings? Read(JobText text, TomlEntry entry, ImmutableArray<Feature> features)
    {
        if (entry.Value is not TomlTable table)
            return Radius(text, entry.Value, "fillet") is { } all ? new(all, ImmutableDictionary<string, double>.Empty) : null;
        var names = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (var e in table.Entries)
        {
            var name = FeatureNames.Find(text, e, "fillet", features, []);
            if (names.ContainsKey(name)) throw text.Refuse(e.Line, $"fillet names \"{name}\" twice; keep one.");
            if (Radius(text, e.Value, $"fillet {Show.Short(e.Key)}") is { } radius) names.Add(name, radius);
        }

        return new(null, names.ToImmutable());
    }

    private static double? Radius(JobText text, TomlNode node, string what) =>
        Values.Is(node, "auto") ? null : Values.Is(node, "none") ? 0 : Values.Length(text, node, what, 0, Largest_mm);
}
