using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Texts;

/// <summary>One of several castings of a mould, as plan, table and kit.json tell it.</summary>
/// <param name="Name">"C1", by which the plan of the mould has it.</param>
/// <param name="Part">What it is a casting of.</param>
/// <param name="At_mm">Where the origin of its part lies, job coordinates.</param>
/// <param name="Middle_mm">Its middle in plan, pattern millimetres.</param>
/// <param name="Ingates">Its ingates: number from the sprue, section and what part of the metal it gets, where that is known.</param>
/// <param name="Full_s">When it is full, feeders left out; null where that is not known.</param>
public sealed record CastingLine(string Name, CastPart Part, Vec2 At_mm, Vec2 Middle_mm, ImmutableArray<(int Number, double Section_mm2, double? Share)> Ingates, double? Full_s);

/// <summary>The castings of a mould of several, part by part.</summary>
public static class CastingLines
{
    /// <summary>All of them; none for a mould of one.</summary>
    public static ImmutableArray<CastingLine> Of(Kit kit) =>
    [
        .. kit.CastParts.SelectMany(p => p.At_mm.Select(at => (Part: p, At_mm: at))).Select((c, i) => new CastingLine(
            "C" + SheetNumbers.Whole(i + 1), c.Part, c.At_mm, kit.Scale * (c.At_mm + ((c.Part.Box_mm.Low + c.Part.Box_mm.High).Plan / 2)),
            [
                .. (kit.Gating?.Castings ?? []).Select((casting, gate) => (Casting: casting, Gate: gate)).Where(g => g.Casting == i)
                    .Select(g => (g.Gate + 1, kit.Gating!.Reckoning.IngateAt(g.Gate).Area_mm2, kit.Filling is { } filling ? (double?)filling.Shares[g.Gate] : null)),
            ],
            kit.Filling is { CastingsFull_s.IsEmpty: false } filled ? filled.CastingsFull_s[i] : null)),
    ];
}
