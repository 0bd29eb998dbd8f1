using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>Groups of alloys that the standards treat alike.</summary>
public enum AlloyFamily
{
    /// <summary>Aluminium and its alloys.</summary>
    Aluminium,

    /// <summary>Magnesium alloys.</summary>
    Magnesium,

    /// <summary>Copper, brasses and bronzes.</summary>
    Copper,

    /// <summary>Gray and ductile iron.</summary>
    Iron,

    /// <summary>Cast steel.</summary>
    Steel,

    /// <summary>Zinc and zinc-aluminium alloys.</summary>
    Zinc,

    /// <summary>Tin, lead and their alloys.</summary>
    WhiteMetal,
}

/// <summary>Names of families.</summary>
public static class AlloyFamilies
{
    /// <summary>As tables and reports write it.</summary>
    public static string Name(AlloyFamily family) => Reading.AlloyReader.Word(family);
}

/// <summary>Which size a published contraction percentage is a part of.</summary>
public enum ContractionBase
{
    /// <summary>The casting, as on a contraction rule: pattern = casting × (1 + s).</summary>
    Casting,

    /// <summary>The pattern, as in EN 12890: casting = pattern × (1 − s).</summary>
    Pattern,
}

/// <summary>One row of an alloy's contraction, for castings up to a size.</summary>
/// <param name="UpTo_mm">Largest size of the casting that the row holds for; infinite in the last row.</param>
/// <param name="Fraction">Always referred to the casting: pattern = casting × (1 + Fraction).</param>
/// <param name="Published">What the source's own percentage refers to; converted when it is the pattern.</param>
/// <param name="Printed">The figure as the source prints it.</param>
/// <param name="From">Where it comes from.</param>
public sealed record ContractionRow(double UpTo_mm, double Fraction, ContractionBase Published, string Printed, Provenance From);

/// <summary>Where freezing begins and ends.</summary>
/// <param name="Liquidus_C">Degrees Celsius.</param>
/// <param name="Solidus_C">Degrees Celsius, not above the liquidus; equal for a pure metal.</param>
/// <param name="From">Where it comes from.</param>
public sealed record FreezingRange(double Liquidus_C, double Solidus_C, Provenance From)
{
    /// <summary>Liquidus less solidus.</summary>
    public double Width_C => Liquidus_C - Solidus_C;
}

/// <summary>A danger that a metal brings beyond that of any molten metal.</summary>
/// <param name="Text">What it is.</param>
/// <param name="MustAcknowledge">Whether a job must acknowledge it before anything is made.</param>
/// <param name="From">Where it comes from.</param>
public sealed record Hazard(string Text, bool MustAcknowledge, Provenance From);

/// <summary>A metal as the tables know it.</summary>
/// <param name="Key">The name that jobs use.</param>
/// <param name="Title">The name that reports print.</param>
/// <param name="Family">Group for tolerances and stock.</param>
/// <param name="Aliases">Other designations that find it, such as UNS numbers.</param>
/// <param name="Contraction">By size, ascending; never empty.</param>
/// <param name="Density_kg_m3">Solid, at room temperature.</param>
/// <param name="LiquidDensity_kg_m3">Liquid, at its melting point; null where no figure is known.</param>
/// <param name="Freezing">Null where no figure is known.</param>
/// <param name="MinimumSection_mm">Thinnest wall that usually runs in sand; null where no figure is known.</param>
/// <param name="Hazard">A danger beyond that of any molten metal; null where there is none.</param>
/// <param name="Cautions">Keys of cautions that apply to this metal beyond those that always apply.</param>
public sealed record Alloy(
    string Key,
    string Title,
    AlloyFamily Family,
    ImmutableArray<string> Aliases,
    ImmutableArray<ContractionRow> Contraction,
    Quoted Density_kg_m3,
    Quoted? LiquidDensity_kg_m3,
    FreezingRange? Freezing,
    Quoted? MinimumSection_mm,
    Hazard? Hazard,
    ImmutableArray<string> Cautions)
{
    /// <summary>What it carries into the mould.</summary>
    public AlloyHeat Heat { get; init; } = new();

    /// <summary>Whether a job must acknowledge the hazard before it is made.</summary>
    public bool Hazardous => Hazard is { MustAcknowledge: true };
}
