using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Plans;

/// <summary>The section of the closed pattern in its plane: to the right along x or y, and upward.</summary>
/// <param name="Plane">Where it is cut.</param>
/// <param name="Halves">The rings of each half; null of one that is not closed there.</param>
/// <param name="Low">Lower left corner of what is cut.</param>
/// <param name="High">Upper right corner.</param>
internal sealed record PatternSection(SectionPlane Plane, ImmutableArray<(KitBody Half, ImmutableArray<ImmutableArray<Vec2>>? Rings)> Halves, Vec2 Low, Vec2 High)
{
    /// <summary>The section of a kit that has a body.</summary>
    public static PatternSection Of(Kit kit)
    {
        var plane = SectionPlane.Of(kit);
        var halves = kit.Bodies.Concat(kit.Loose.Select(l => l.Body)).Select(b => (b, ClosedSection.Of(b, plane.Point, plane.Normal) is { } loops ? plane.InView(loops) : (ImmutableArray<ImmutableArray<Vec2>>?)null)).ToImmutableArray();
        var cut = halves.SelectMany(h => h.Item2 ?? []).SelectMany(r => r).ToArray();
        return cut.Length == 0
            ? new(plane, halves, plane.InView(plane.Box.Low), plane.InView(plane.Box.High))
            : new(plane, halves, new(cut.Min(p => p.X), cut.Min(p => p.Y)), new(cut.Max(p => p.X), cut.Max(p => p.Y)));
    }
}
