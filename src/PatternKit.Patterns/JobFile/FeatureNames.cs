using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>Finds the features and layers that a table of the job names.</summary>
internal static class FeatureNames
{
    /// <summary>All names of features and of their layers.</summary>
    public static IReadOnlyList<string> Of(ImmutableArray<Feature> features) => [.. features.SelectMany(f => new[] { f.Name, f.Layer }).OfType<string>().Distinct()];

    /// <summary>The name as the job has it; capitals do not matter.</summary>
    /// <param name="text">The job file.</param>
    /// <param name="entry">Whose key is the name.</param>
    /// <param name="what">The table, for messages.</param>
    /// <param name="known">Names of features and layers, or of faces.</param>
    /// <param name="others">What else may stand there.</param>
    public static string Find(JobText text, TomlEntry entry, string what, IReadOnlyList<string> known, IReadOnlyList<string> others)
    {
        return known.FirstOrDefault(k => k == entry.Key) ?? known.FirstOrDefault(k => string.Equals(k, entry.Key, StringComparison.OrdinalIgnoreCase))
            ?? throw text.Refuse(entry.Line, $"{what} names \"{Show.Short(entry.Key)}\", which is neither {(others.Count > 0 ? "a place nor " : "")}a part nor a layer of this job, nor faces of its mesh.{Nearest.Hint(entry.Key, [.. others, .. known])}");
    }
}
