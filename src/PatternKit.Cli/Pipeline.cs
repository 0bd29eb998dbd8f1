using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets;

namespace PatternKit.Cli;

/// <summary>The way from a job to the files of its kit.</summary>
/// <param name="Build">From a job to its kit.</param>
/// <param name="Render">From a kit to its files.</param>
internal sealed record Pipeline(Func<Job, FoundryTables, Kit> Build, Func<Kit, ImmutableArray<KitFile>> Render)
{
    /// <summary>The way that the product takes.</summary>
    public static Pipeline Product { get; } = new(KitBuilder.Build, KitFiles.Render);
}
