using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Loose;

/// <summary>The holes of loose pins: through the piece and into the pattern, in the piece's own frame.</summary>
/// <param name="At">Their places on the wall.</param>
/// <param name="Diameter_mm">Of the pins.</param>
/// <param name="Hole_mm">Of the printed holes.</param>
/// <param name="Depth_mm">In the pattern.</param>
internal sealed record Pinned(ImmutableArray<Vec2> At, double Diameter_mm, double Hole_mm, double Depth_mm)
{
    /// <summary>Sides of a hole.</summary>
    private const int Sides = 24;

    /// <summary>A hole turning left seen from outside.</summary>
    public ImmutableArray<Vec2> Ring(Vec2 at) =>
        [.. Enumerable.Range(0, Sides).Select(i => at + (Hole_mm / 2 * new Vec2(Math.Cos(2 * Math.PI * i / Sides), Math.Sin(2 * Math.PI * i / Sides))))];

    /// <summary>Walls between two rings of a hole, turning left seen from within.</summary>
    public static IEnumerable<ImmutableArray<Vec3>> Walls(ImmutableArray<Vec3> low, ImmutableArray<Vec3> high) =>
        low.Select((p, i) => (Here: i, Next: (i + 1) % low.Length)).Select(s => ImmutableArray.Create(low[s.Next], low[s.Here], high[s.Here], high[s.Next]));
}
