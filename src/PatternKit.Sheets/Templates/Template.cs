using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Sheets.Templates;

/// <summary>A line of letters on a template.</summary>
/// <param name="At_mm">Middle of the foot of the letters.</param>
/// <param name="Content">What is written.</param>
/// <param name="Height_mm">Size of the letters.</param>
internal readonly record struct TemplateText(Vec2 At_mm, string Content, double Height_mm);

/// <summary>Something to cut out at full size: a section of a half or of a bar, a rule, a gauge. Millimetres, y upward.</summary>
/// <param name="Name">What it is, one line, written beside it.</param>
/// <param name="Cut">Outlines to cut along; the first is the whole.</param>
internal sealed record Template(string Name, ImmutableArray<PlanRegion> Cut)
{
    /// <summary>Round holes.</summary>
    public ImmutableArray<(Vec2 At_mm, double Diameter_mm)> Drill { get; init; } = [];

    /// <summary>Straight lines to scribe.</summary>
    public ImmutableArray<(Vec2 From, Vec2 To)> Engrave { get; init; } = [];

    /// <summary>Letters to engrave.</summary>
    public ImmutableArray<TemplateText> Texts { get; init; } = [];

    /// <summary>The box of its outlines.</summary>
    public Box3 Box => Cut.SelectMany(r => r.Rings()).SelectMany(r => r).Aggregate(Box3.Empty, (box, p) => box.With(new(p.X, p.Y, 0)));
}
