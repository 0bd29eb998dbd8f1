namespace PatternKit.Foundry;

/// <summary>A safety caution for the shop sheet.</summary>
/// <param name="Key">Stable name.</param>
/// <param name="Text">What to do and why, one or two sentences.</param>
/// <param name="When">The stage of work that it belongs to.</param>
/// <param name="Always">Whether it belongs on every sheet; else only on those of alloys that name it.</param>
/// <param name="From">Where it comes from.</param>
public sealed record Caution(string Key, string Text, string When, bool Always, Provenance From);
