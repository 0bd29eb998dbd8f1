using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>How far a table value can be trusted.</summary>
public enum Basis
{
    /// <summary>The figure was read in the source named.</summary>
    Read,

    /// <summary>The figure is believed to be printed in the source named; the page was not seen.</summary>
    Memory,

    /// <summary>Rule of thumb of the trade without a single source.</summary>
    CommonPractice,

    /// <summary>The user's own figure, from a shop file.</summary>
    Shop,
}

/// <summary>Where a table row comes from.</summary>
/// <param name="Source">Author, standard or title.</param>
/// <param name="Basis">How far it can be trusted.</param>
/// <param name="Others">What other sources say, each with its name, where they disagree.</param>
/// <param name="Why">Why this one was taken; empty where nothing disagrees.</param>
public sealed record Provenance(string Source, Basis Basis, ImmutableArray<string> Others, string Why)
{
    /// <summary>The source with its basis, as reports print it.</summary>
    public string Text => Basis switch
    {
        Basis.Memory => $"{Source} (from memory)",
        Basis.CommonPractice when !Source.Contains("common practice", StringComparison.OrdinalIgnoreCase) => $"{Source} (common practice)",
        _ => Source,
    };
}

/// <summary>One number of a table with where it comes from.</summary>
/// <param name="Value">In the unit that the owner's documentation names.</param>
/// <param name="Printed">The figure as the source prints it, where it was converted or chosen from a range; else empty.</param>
/// <param name="From">Where it comes from.</param>
public sealed record Quoted(double Value, string Printed, Provenance From);
