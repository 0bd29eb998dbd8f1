using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>The heights from one plane to another above it.</summary>
public readonly record struct Span(HeightPlane Low, HeightPlane High)
{
    /// <summary>High less low over a point.</summary>
    public double LengthAt(Vec2 p) => High.At(p) - Low.At(p);
}

/// <summary>
/// A piece of the plan over which a body made of prisms, level or sloped, is bounded by the same planes at every point.
/// </summary>
/// <param name="Region">The piece of plan; one polygon, holes allowed.</param>
/// <param name="Solid">Where the column is solid, ascending, not touching; empty over a hole.</param>
public sealed record Cell(PlanRegion Region, ImmutableArray<Span> Solid)
{
    private readonly Vec2 centre = Region.Centroid;

    /// <summary>Mean of the lowest solid height, which is its height everywhere where it is level; positive infinity over a hole.</summary>
    public double Low => Solid.IsEmpty ? double.PositiveInfinity : Solid[0].Low.At(centre);

    /// <summary>Mean of the highest solid height; negative infinity over a hole.</summary>
    public double High => Solid.IsEmpty ? double.NegativeInfinity : Solid[^1].High.At(centre);

    /// <summary>Solid volume above the piece, mm³: the mean height of a plane is that over the centroid.</summary>
    public double Volume => Region.Area * Solid.Sum(s => s.LengthAt(centre));

    /// <summary>Whether a plane passes through a height inside the piece, by more than rounding to the lattice explains.</summary>
    internal bool Crosses(HeightPlane plane, HeightPlane other, double step)
    {
        var slack = 4 * step * (1 + plane.Slope + other.Slope);
        var (below, above) = (false, false);
        foreach (var c in Region.Geometry.Coordinates)
        {
            var p = new Vec2(c.X, c.Y);
            var difference = plane.At(p) - other.At(p);
            below |= difference < -slack;
            above |= difference > slack;
        }

        return below && above;
    }
}

/// <summary>
/// A body of prisms as a partition of the plan into cells with the solid intervals of their
/// columns. Cells do not overlap and neighbours share their border vertices exactly. Bounded holes are cells
/// without solid; the unbounded outside is not listed.
/// </summary>
public sealed record ColumnMap(ImmutableArray<Cell> Cells)
{
    /// <summary>Solid volume, mm³.</summary>
    public double Volume => Cells.Sum(c => c.Volume);

    /// <summary>The smallest box around all that is solid.</summary>
    public Box3 Box => Cells.Where(c => !c.Solid.IsEmpty).Aggregate(Box3.Empty, (box, c) =>
        c.Region.Geometry.Coordinates.Aggregate(box, (b, v) =>
        {
            var p = new Vec2(v.X, v.Y);
            return b.With(new(p.X, p.Y, c.Solid[0].Low.At(p))).With(new(p.X, p.Y, c.Solid[^1].High.At(p)));
        }));

    /// <summary>The same body with its sloped cells cut where the lowest or the highest plane passes through a height.</summary>
    /// <param name="height">mm.</param>
    /// <param name="step">Lattice step of the vertices.</param>
    public ColumnMap CutAt(double height, double step)
    {
        var cuts = Cells.Where(c => !c.Solid.IsEmpty).SelectMany(c => new[] { c.Solid[0].Low, c.Solid[^1].High }
            .Where(plane => !plane.IsLevel && c.Crosses(plane, height, step)).SelectMany(plane => PlaneCuts.Of(c.Region, plane, height))).ToArray();
        if (cuts.Length == 0) return this;
        return new(
        [
            .. PlanPartition.Overlay([.. Cells.Select(c => c.Region)], step, cuts).Where(f => !f.Members.IsEmpty)
                .Select(f => new Cell(f.Region, Cells[f.Members[0]].Solid)),
        ]);
    }
}
