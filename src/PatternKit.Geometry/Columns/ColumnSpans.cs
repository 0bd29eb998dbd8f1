using System.Collections.Immutable;

namespace PatternKit.Geometry.Columns;

/// <summary>Unions and differences of the solid intervals of one column: ascending, none touching another.</summary>
public static class ColumnSpans
{
    /// <summary>The column where the prisms of the given numbers, in that order, stand.</summary>
    public static ImmutableArray<Span> Of(IReadOnlyList<Prism> prisms, IEnumerable<int> order)
    {
        var solid = ImmutableArray<Span>.Empty;
        foreach (var i in order)
            solid = prisms[i].Removes ? Remove(solid, prisms[i].Low, prisms[i].High) : Add(solid, prisms[i].Low, prisms[i].High);
        return solid;
    }

    /// <summary>The intervals joined with one more; what touches becomes one.</summary>
    public static ImmutableArray<Span> Add(ImmutableArray<Span> solid, double low, double high)
    {
        if (!(low < high)) return solid;
        var result = ImmutableArray.CreateBuilder<Span>(solid.Length + 1);
        var i = 0;
        while (i < solid.Length && solid[i].High < low) result.Add(solid[i++]);
        for (; i < solid.Length && solid[i].Low <= high; i++)
        {
            low = Math.Min(low, solid[i].Low);
            high = Math.Max(high, solid[i].High);
        }

        result.Add(new(low, high));
        while (i < solid.Length) result.Add(solid[i++]);
        return result.ToImmutable();
    }

    /// <summary>The intervals without one range.</summary>
    public static ImmutableArray<Span> Remove(ImmutableArray<Span> solid, double low, double high)
    {
        if (!(low < high)) return solid;
        var result = ImmutableArray.CreateBuilder<Span>(solid.Length + 1);
        foreach (var s in solid)
        {
            if (s.High <= low || s.Low >= high)
            {
                result.Add(s);
                continue;
            }

            if (s.Low < low) result.Add(new(s.Low, low));
            if (s.High > high) result.Add(new(high, s.High));
        }

        return result.ToImmutable();
    }

    /// <summary>Total length, mm.</summary>
    public static double Length(ImmutableArray<Span> solid) => solid.Sum(s => s.Length);
}
