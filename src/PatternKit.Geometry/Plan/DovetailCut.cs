using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>A dovetail in the plan: a trapezoid that stands with its narrow side on a line.</summary>
/// <param name="Middle">Where its middle is along the line, mm.</param>
/// <param name="Neck">Its width on the line, mm.</param>
/// <param name="Depth">How far it reaches, mm.</param>
/// <param name="Flare">By how much each of its flanks leans out, mm for each mm of depth.</param>
public readonly record struct Dovetail(double Middle, double Neck, double Depth, double Flare)
{
    /// <summary>Width at the far end, mm.</summary>
    public double Width => Neck + (2 * Flare * Depth);
}

/// <summary>
/// A cut through the plan along a line square to an axis, with dovetails that reach over it to the side of the higher coordinates. Pieces
/// on both sides keep a gap between them that is as wide everywhere, measured square to the cut.
/// </summary>
/// <param name="IsAcrossX">Whether the line is x = <paramref name="At"/>; else it is y = At.</param>
/// <param name="At">Where it crosses its axis, mm.</param>
/// <param name="Low">Its lower end along the other axis, mm.</param>
/// <param name="High">Its upper end.</param>
/// <param name="Tails">In ascending order, apart from each other and from the ends.</param>
public sealed record DovetailCut(bool IsAcrossX, double At, double Low, double High, ImmutableArray<Dovetail> Tails)
{
    /// <summary>The cut, from its lower end to the upper one.</summary>
    public ImmutableArray<Vec2> Points => Offset(0);

    /// <summary>Its length with all tails, mm. Times the gap, that is the area of the strip which is left out between two ends square to it.</summary>
    public double Length => Points.Zip(Points.Skip(1), Vec2.Distance).Sum();

    /// <summary>The plan on the side of the lower coordinates, tails included, as far as a reach.</summary>
    /// <param name="gap">Between the pieces of both sides, mm.</param>
    /// <param name="reach">How far from the line, mm.</param>
    public PlanRegion LowSide(double gap, double reach) => PlanRegion.Polygon([.. Offset(-gap / 2), Place(High, -reach), Place(Low, -reach)]);

    /// <summary>The plan on the other side, sockets for the tails left out.</summary>
    /// <param name="gap">Between the pieces of both sides, mm.</param>
    /// <param name="reach">How far from the line, mm.</param>
    public PlanRegion HighSide(double gap, double reach) => PlanRegion.Polygon([.. Offset(gap / 2), Place(High, reach), Place(Low, reach)]);

    /// <summary>The strip along the line, without its tails, from one end to the other.</summary>
    /// <param name="land">How far to either side, mm.</param>
    public PlanRegion Strip(double land) => PlanRegion.Polygon([Place(Low, -land), Place(High, -land), Place(High, land), Place(Low, land)]);

    /// <summary>The rectangle round a tail and its neck, grown by a land.</summary>
    /// <param name="tail">The tail.</param>
    /// <param name="land">Material around it, mm.</param>
    public PlanRegion Around(Dovetail tail, double land)
    {
        var half = (tail.Width / 2) + land;
        return PlanRegion.Polygon([Place(tail.Middle - half, -land), Place(tail.Middle + half, -land), Place(tail.Middle + half, tail.Depth + land), Place(tail.Middle - half, tail.Depth + land)]);
    }

    /// <summary>The cut moved towards the higher side, its corners mitred, so that every part of it is as far from where it was.</summary>
    private ImmutableArray<Vec2> Offset(double by)
    {
        Vec2[] line = [new(Low, 0), .. Tails.SelectMany(Corners), new(High, 0)];
        var normals = line.Zip(line.Skip(1), (a, b) => (b - a).Normalized().Left).ToArray();
        return [.. line.Select((p, i) =>
        {
            var (n, m) = (normals[Math.Max(i - 1, 0)], normals[Math.Min(i, normals.Length - 1)]);
            var moved = p + (by / (1 + Vec2.Dot(n, m)) * (n + m));
            return Place(moved.X, moved.Y);
        })];
    }

    private static Vec2[] Corners(Dovetail t) =>
    [
        new(t.Middle - (t.Neck / 2), 0), new(t.Middle - (t.Width / 2), t.Depth), new(t.Middle + (t.Width / 2), t.Depth), new(t.Middle + (t.Neck / 2), 0),
    ];

    private Vec2 Place(double along, double across) => IsAcrossX ? new(At + across, along) : new(along, At + across);
}
