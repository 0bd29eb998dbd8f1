using System.Collections.Immutable;
using PatternKit.Geometry.Columns;

namespace PatternKit.Patterns.Casting;

/// <summary>
/// Solid intervals of a column as designed, each end with the stock that goes onto it. Features are put together at their
/// nominal heights, and only then do the faces that are left grow: so stock opens no joint, closes no mouth and stands
/// nowhere inside.
/// </summary>
internal sealed class StockedColumn
{
    private readonly record struct Piece(double Low, double LowStock, double High, double HighStock);

    private List<Piece> pieces = [];

    internal void Add(double low, double high, double bottomStock, double topStock)
    {
        var joined = new Piece(low, bottomStock, high, topStock);
        var rest = new List<Piece>();
        foreach (var p in pieces)
        {
            if (p.High < low || p.Low > high)
            {
                rest.Add(p);
                continue;
            }

            // Where two faces fall together the larger stock holds.
            if (p.Low < joined.Low) joined = joined with { Low = p.Low, LowStock = p.LowStock };
            else if (p.Low == joined.Low) joined = joined with { LowStock = Math.Max(p.LowStock, joined.LowStock) };
            if (p.High > joined.High) joined = joined with { High = p.High, HighStock = p.HighStock };
            else if (p.High == joined.High) joined = joined with { HighStock = Math.Max(p.HighStock, joined.HighStock) };
        }

        rest.Add(joined);
        pieces = rest;
    }

    internal void Remove(double low, double high, double stock)
    {
        var rest = new List<Piece>();
        foreach (var p in pieces)
        {
            if (p.High <= low || p.Low >= high)
            {
                rest.Add(p);
                continue;
            }

            if (p.Low < low) rest.Add(p with { High = low, HighStock = stock });
            if (p.High > high) rest.Add(p with { Low = high, LowStock = stock });
        }

        pieces = rest;
    }

    /// <summary>The intervals with their stock, ascending.</summary>
    internal ImmutableArray<Span> Grown(double scale) => pieces.Aggregate(
        ImmutableArray<Span>.Empty,
        (solid, p) => ColumnSpans.Add(solid, scale * (p.Low - p.LowStock), scale * (p.High + p.HighStock)));
}
