using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns;

/// <summary>How much a finding weighs: a stop ends the job with exit code 1 unless forced.</summary>
public enum Severity
{
    /// <summary>Told, no harm expected.</summary>
    Note,

    /// <summary>Likely to spoil a casting or cost work.</summary>
    Warn,

    /// <summary>Cannot leave the sand, or can hurt someone.</summary>
    Stop,
}

/// <summary>Something the user should know before melting.</summary>
/// <param name="Code">Stable code, such as <c>undercut</c>.</param>
/// <param name="Severity">Weight.</param>
/// <param name="Message">What, where and how much, in words.</param>
/// <param name="At_mm">Place in job coordinates; null where the whole job is meant.</param>
/// <param name="Value">Measured value, in the unit.</param>
/// <param name="Limit">The limit it is held against.</param>
/// <param name="Source">Where the limit comes from.</param>
/// <param name="Remedy">What to do.</param>
/// <param name="Unit">Of value and limit, as for a decision: "mm", "mm3", "deg", "kg/s"; empty for a bare number.</param>
public sealed record Finding(
    string Code,
    Severity Severity,
    string Message,
    Vec3? At_mm = null,
    double? Value = null,
    double? Limit = null,
    string? Source = null,
    string? Remedy = null,
    string Unit = "")
{
    /// <summary>The code of the finding that a job may acknowledge.</summary>
    public const string HazardousAlloy = "hazardous-alloy";

    /// <summary>Of a part that is a mesh: its facets that lie in what is found, ascending; empty where it is about no facets.</summary>
    public ImmutableArray<int> Facets { get; init; } = [];

    /// <summary>The same in the words of a job: one in inches has them first, millimetres beside.</summary>
    public Finding In(LengthUnit unit) => unit == LengthUnit.Inch ? this with { Message = CustomaryUnits.First(Message), Remedy = Remedy is null ? null : CustomaryUnits.First(Remedy) } : this;
}
