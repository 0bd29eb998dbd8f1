using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>Finds the features and layers that a table of the job names.</summary>
internal static class FeatureNames
{
    /// <summary>The name as the job has it; capitals do not matter.</summary>
    /// <param name="text">The job file.</param>
    /// <param name="entry">Whose key is the name.</param>
    /// <param name="what">The table, for messages.</param>
    /// <param name="features">The features of the job.</param>
    /// <param name="others">What else may stand there.</param>
    public static string Find(JobText text, TomlEntry entry, string what, ImmutableArray<Feature> features, IReadOnlyList<string> others)
    {
        var known = features.SelectMany(f => new[] { f.Name, f.Layer }).OfType<string>().Distinct().ToList();
        return known.FirstOrDefault(k => k == entry.Key) ?? known.FirstOrDefault(k => string.Equals(k, entry.Key, StringComparison.OrdinalIgnoreCase))
            ?? throw text.Refuse(entry.Line, $"{what} names \"{Show.Short(entry.Key)}\", which is neither {(others.Count > 0 ? "a place nor " : "")}a part nor a layer of this job.{Nearest.Hint(entry.Key, [.. others, .. known])}");
    }
}
