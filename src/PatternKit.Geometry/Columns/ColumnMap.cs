using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>A closed range of heights, mm; Low is less than High.</summary>
public readonly record struct Span(double Low, double High)
{
    /// <summary>High less low.</summary>
    public double Length => High - Low;
}

/// <summary>
/// A piece of the plan over which a body made of upright prisms is the same at every point.
/// </summary>
/// <param name="Region">The piece of plan; one polygon, holes allowed.</param>
/// <param name="Solid">Where the column is solid, ascending, not touching; empty over a hole.</param>
public sealed record Cell(PlanRegion Region, ImmutableArray<Span> Solid)
{
    /// <summary>Lowest solid height; positive infinity over a hole.</summary>
    public double Low => Solid.IsEmpty ? double.PositiveInfinity : Solid[0].Low;

    /// <summary>Highest solid height; negative infinity over a hole.</summary>
    public double High => Solid.IsEmpty ? double.NegativeInfinity : Solid[^1].High;

    /// <summary>Solid volume above the piece, mm³.</summary>
    public double Volume => Region.Area * Solid.Sum(s => s.Length);
}

/// <summary>
/// A body of upright prisms as a partition of the plan into cells with the solid intervals of their columns.
/// Cells do not overlap and neighbours share their border vertices exactly. Bounded holes are cells
/// without solid; the unbounded outside is not listed.
/// </summary>
public sealed record ColumnMap(ImmutableArray<Cell> Cells)
{
    /// <summary>Solid volume, mm³.</summary>
    public double Volume => Cells.Sum(c => c.Volume);

    /// <summary>The smallest box around all that is solid.</summary>
    public Box3 Box => Cells.Where(c => !c.Solid.IsEmpty).Aggregate(Box3.Empty, (box, c) =>
    {
        var e = c.Region.Geometry.EnvelopeInternal;
        return box.With(new(e.MinX, e.MinY, c.Low)).With(new(e.MaxX, e.MaxY, c.High));
    });
}
