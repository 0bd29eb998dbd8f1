using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>A name was asked for that no table holds.</summary>
public sealed class UnknownNameException : Exception
{
    /// <param name="kind">What was looked for: "alloy", "sand", "machining allowance grade".</param>
    /// <param name="name">The name asked for.</param>
    /// <param name="suggestions">The nearest known names, nearest first.</param>
    public UnknownNameException(string kind, string name, ImmutableArray<string> suggestions)
        : base(Describe(kind, name, suggestions))
    {
        Kind = kind;
        Name = name;
        Suggestions = suggestions;
    }

    /// <summary>What was looked for.</summary>
    public string Kind { get; }

    /// <summary>The name asked for.</summary>
    public string Name { get; }

    /// <summary>The nearest known names, nearest first.</summary>
    public ImmutableArray<string> Suggestions { get; }

    private static string Describe(string kind, string name, ImmutableArray<string> suggestions)
    {
        var hint = suggestions.IsDefaultOrEmpty ? "none is known" : $"nearest known: {string.Join(", ", suggestions)}";
        return $"Unknown {kind} '{Shown.Short(name)}'; {hint}.";
    }
}
