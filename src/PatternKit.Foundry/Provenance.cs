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
/// <param name="Others">What other sources say, where they disagree.</param>
/// <param name="Why">Why this one was taken; empty where nothing disagrees.</param>
public sealed record Provenance(string Source, Basis Basis, ImmutableArray<OtherFigure> Others, string Why)
{
    /// <summary>The source with its basis, as reports print it.</summary>
    public string Text => Told(Source, Basis);

    internal static string Told(string source, Basis basis) => basis switch
    {
        Basis.Memory => $"{source} (from memory)",
        Basis.CommonPractice when !source.Contains("common practice", StringComparison.OrdinalIgnoreCase) => $"{source} (common practice)",
        _ => source,
    };
}

/// <summary>What another source says than the one that a row follows.</summary>
/// <param name="Source">Author, standard or title.</param>
/// <param name="Says">The figure as it prints it.</param>
/// <param name="Basis">How far it can be trusted.</param>
public sealed record OtherFigure(string Source, string Says, Basis Basis)
{
    /// <summary>Figure and source, as reports print them.</summary>
    public string Text => $"{Says}: {Provenance.Told(Source, Basis)}";
}

/// <summary>One number of a table with where it comes from.</summary>
/// <param name="Value">In the unit that the owner's documentation names.</param>
/// <param name="Printed">The figure as the source prints it, where it was converted or chosen from a range; else empty.</param>
/// <param name="From">Where it comes from.</param>
public sealed record Quoted(double Value, string Printed, Provenance From);
