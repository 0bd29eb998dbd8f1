using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>
/// Unions and differences of the solid intervals of the columns over a piece of plan in which no two of their ends cross: ascending, none
/// touching another. What lies above what is asked at one point inside the piece.
/// </summary>
public static class ColumnSpans
{
    /// <summary>The columns where the prisms of the given numbers, in that order, stand.</summary>
    public static ImmutableArray<Span> Of(IReadOnlyList<Prism> prisms, IEnumerable<int> order, Vec2 at)
    {
        var solid = ImmutableArray<Span>.Empty;
        foreach (var i in order)
            solid = prisms[i].Removes ? Remove(solid, prisms[i].Low, prisms[i].High, at) : Add(solid, prisms[i].Low, prisms[i].High, at);
        return solid;
    }

    /// <summary>The intervals joined with one more; what touches becomes one.</summary>
    public static ImmutableArray<Span> Add(ImmutableArray<Span> solid, HeightPlane low, HeightPlane high, Vec2 at)
    {
        if (!(low.At(at) < high.At(at))) return solid;
        var result = ImmutableArray.CreateBuilder<Span>(solid.Length + 1);
        var i = 0;
        while (i < solid.Length && solid[i].High.At(at) < low.At(at)) result.Add(solid[i++]);
        for (; i < solid.Length && solid[i].Low.At(at) <= high.At(at); i++)
        {
            if (solid[i].Low.At(at) < low.At(at)) low = solid[i].Low;
            if (solid[i].High.At(at) > high.At(at)) high = solid[i].High;
        }

        result.Add(new(low, high));
        while (i < solid.Length) result.Add(solid[i++]);
        return result.ToImmutable();
    }

    /// <summary>The intervals without one range.</summary>
    public static ImmutableArray<Span> Remove(ImmutableArray<Span> solid, HeightPlane low, HeightPlane high, Vec2 at)
    {
        if (!(low.At(at) < high.At(at))) return solid;
        var result = ImmutableArray.CreateBuilder<Span>(solid.Length + 1);
        foreach (var s in solid)
        {
            if (s.High.At(at) <= low.At(at) || s.Low.At(at) >= high.At(at))
            {
                result.Add(s);
                continue;
            }

            if (s.Low.At(at) < low.At(at)) result.Add(new(s.Low, low));
            if (s.High.At(at) > high.At(at)) result.Add(new(high, s.High));
        }

        return result.ToImmutable();
    }

    /// <summary>Total length over a point, mm.</summary>
    public static double Length(ImmutableArray<Span> solid, Vec2 at) => solid.Sum(s => s.LengthAt(at));
}
