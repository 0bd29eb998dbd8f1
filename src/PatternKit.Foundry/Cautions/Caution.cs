using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>A safety caution for the shop sheet.</summary>
/// <param name="Key">Stable name.</param>
/// <param name="Text">What to do and why, one or two sentences.</param>
/// <param name="When">The stage of work that it belongs to.</param>
/// <param name="Always">Whether it belongs on every sheet; else only where alloy, family or sand call for it.</param>
/// <param name="From">Where it comes from.</param>
public sealed record Caution(string Key, string Text, string When, bool Always, Provenance From)
{
    /// <summary>Families of metals that call for it, beside alloys that name it.</summary>
    public ImmutableArray<AlloyFamily> Families { get; init; } = [];

    /// <summary>Keys of sands that call for it.</summary>
    public ImmutableArray<string> Sands { get; init; } = [];

    /// <summary>Where what it warns of boils off, °C; null where that is not its point.</summary>
    public double? Boils_C { get; init; }

    /// <summary>The caution for an alloy: a boiling point is set beside the temperature from which the alloy is liquid, since it is poured hotter than that.</summary>
    public Caution For(Alloy alloy) => Boils_C is not { } boils || alloy.Freezing is not { } freezing ? this : this with
    {
        Text = FormattableString.Invariant($"{Text} It boils at {boils:0} °C; this alloy is liquid from {freezing.Liquidus_C:0} °C on, {(freezing.Liquidus_C >= boils ? "so that it boils off at every pour" : $"so that {boils - freezing.Liquidus_C:0} °C of superheat are the limit")}."),
    };
}
