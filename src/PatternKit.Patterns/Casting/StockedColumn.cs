using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Casting;

/// <summary>
/// Solid intervals of a column as designed at pattern size, each end with the stock that goes onto it. Features are put together at their
/// nominal heights, and only then do the faces that are left grow: so stock opens no joint, closes no mouth and stands
/// nowhere inside.
/// </summary>
/// <param name="at">The point of the plan that is looked at; no ends cross in the piece of plan around it.</param>
internal sealed class StockedColumn(Vec2 at)
{
    private readonly record struct Piece(HeightPlane Low, double LowStock, HeightPlane High, double HighStock);

    private List<Piece> pieces = [];

    internal void Add(HeightPlane low, HeightPlane high, double bottomStock, double topStock)
    {
        var joined = new Piece(low, bottomStock, high, topStock);
        var rest = new List<Piece>();
        foreach (var p in pieces)
        {
            if (Over(p.High, low) < 0 || Over(p.Low, high) > 0)
            {
                rest.Add(p);
                continue;
            }

            // Where two faces fall together the larger stock holds.
            if (Over(p.Low, joined.Low) < 0) joined = joined with { Low = p.Low, LowStock = p.LowStock };
            else if (Over(p.Low, joined.Low) == 0) joined = joined with { LowStock = Math.Max(p.LowStock, joined.LowStock) };
            if (Over(p.High, joined.High) > 0) joined = joined with { High = p.High, HighStock = p.HighStock };
            else if (Over(p.High, joined.High) == 0) joined = joined with { HighStock = Math.Max(p.HighStock, joined.HighStock) };
        }

        rest.Add(joined);
        pieces = rest;
    }

    internal void Remove(HeightPlane low, HeightPlane high, double stock)
    {
        var rest = new List<Piece>();
        foreach (var p in pieces)
        {
            if (Over(p.High, low) <= 0 || Over(p.Low, high) >= 0)
            {
                rest.Add(p);
                continue;
            }

            if (Over(p.Low, low) < 0) rest.Add(p with { High = low, HighStock = stock });
            if (Over(p.High, high) > 0) rest.Add(p with { Low = high, LowStock = stock });
        }

        pieces = rest;
    }

    /// <summary>The intervals with their stock, ascending.</summary>
    internal ImmutableArray<Span> Grown() => pieces.Aggregate(
        ImmutableArray<Span>.Empty,
        (solid, p) => ColumnSpans.Add(solid, p.Low.Raised(-p.LowStock), p.High.Raised(p.HighStock), at));

    private double Over(HeightPlane a, HeightPlane b) => a.At(at) - b.At(at);
}
