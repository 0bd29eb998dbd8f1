using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>Closed counter-clockwise paths of the typed shapes about the origin, arcs true. Lengths in millimetres.</summary>
internal static class ShapePaths
{
    // Bulge of a quarter turn: tan(90° / 4).
    private static readonly double Quarter = Math.Tan(Math.PI / 8);

    /// <summary>A rectangle with corners of radius <paramref name="corner"/>, at most half its shorter side; 0 is sharp.</summary>
    public static PlanPath Rectangle(double width, double height, double corner)
    {
        var (x, y, r) = (width / 2, height / 2, corner);
        if (r == 0) return PlanPath.Polygon(new(-x, -y), new(x, -y), new(x, y), new(-x, y));
        return Joined(
        [
            new(new(-x + r, -y)), new(new(x - r, -y), Quarter),
            new(new(x, -y + r)), new(new(x, y - r), Quarter),
            new(new(x - r, y)), new(new(-x + r, y), Quarter),
            new(new(-x, y - r)), new(new(-x, -y + r), Quarter),
        ]);
    }

    /// <summary>A slot along x with round ends.</summary>
    /// <param name="overEnds">Length over the ends, greater than the width.</param>
    /// <param name="width">Width, the diameter of the ends.</param>
    public static PlanPath Slot(double overEnds, double width)
    {
        var (x, r) = ((overEnds - width) / 2, width / 2);
        return new([new(new(-x, -r)), new(new(x, -r), 1), new(new(x, r)), new(new(-x, r), 1)], true);
    }

    // A corner of half the side leaves straights of no length; they are left out.
    private static PlanPath Joined(ImmutableArray<PlanVertex> vertices) => new(
        [.. vertices.Where((v, i) => v.Bulge != 0 || v.Point != vertices[(i + 1) % vertices.Length].Point)], true);
}
