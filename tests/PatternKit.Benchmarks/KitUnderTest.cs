using PatternKit.Foundry;
using PatternKit.Geometry.Tests.Reference;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets;

namespace PatternKit.Benchmarks;

/// <summary>The lever bracket of the templates, from its job file and drawing to the bytes of every file of its kit.</summary>
internal static class KitUnderTest
{
    /// <summary>Reads, builds and renders; nothing is written.</summary>
    /// <returns>Bytes of all files.</returns>
    public static long Make() =>
        KitFiles.Render(KitBuilder.Build(JobReader.Read(RepositoryFiles.Path("templates/lever-bracket/job.toml")), FoundryTables.Default)).Sum(f => (long)f.Content.Length);
}
