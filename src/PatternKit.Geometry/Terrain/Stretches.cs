using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>Parts of lines over which something holds.</summary>
internal static class Stretches
{
    /// <summary>The stretches of a line over which something holds, which is asked at its vertices and between; where it ends is found by halving.</summary>
    /// <param name="line">The line.</param>
    /// <param name="apart">Largest distance of two places that are asked, mm.</param>
    /// <param name="step">How near to its end a stretch has to come, mm.</param>
    /// <param name="holds">Whether it holds at a place.</param>
    /// <param name="cuts">Ends of stretches that are not ends of the line are added here.</param>
    public static IEnumerable<ImmutableArray<Vec2>> Of(ImmutableArray<Vec2> line, double apart, double step, Func<Vec2, bool> holds, List<Vec2> cuts)
    {
        var stretch = ImmutableArray.CreateBuilder<Vec2>();
        var held = holds(line[0]);
        if (held) stretch.Add(line[0]);
        for (var i = 1; i < line.Length; i++)
        {
            var (a, b) = (line[i - 1], line[i]);
            var parts = (int)Math.Ceiling(Vec2.Distance(a, b) / apart);
            for (var k = 1; k <= parts; k++)
            {
                var (from, to) = (a + ((double)(k - 1) / parts * (b - a)), k == parts ? b : a + ((double)k / parts * (b - a)));
                var holdsNow = holds(to);
                if (holdsNow != held)
                {
                    stretch.Add(held ? LastHolding(from, to, step, holds) : LastHolding(to, from, step, holds));
                    cuts.Add(stretch[^1]);
                    if (held) yield return Taken();
                    held = holdsNow;
                }
            }

            if (held) stretch.Add(b);
        }

        if (stretch.Count > 1) yield return Taken();

        ImmutableArray<Vec2> Taken()
        {
            var taken = stretch.ToImmutable();
            stretch.Clear();
            return taken;
        }
    }

    /// <summary>The last point, to a step, at which something holds between a point where it does and one where it does not; by halving.</summary>
    public static Vec2 LastHolding(Vec2 inside, Vec2 outside, double step, Func<Vec2, bool> holds)
    {
        while (Vec2.Distance(inside, outside) > step)
        {
            var middle = 0.5 * (inside + outside);
            if (holds(middle)) inside = middle;
            else outside = middle;
        }

        return inside;
    }
}
