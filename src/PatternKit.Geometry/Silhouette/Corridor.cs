using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Silhouette;

/// <summary>A place of a silhouette, and between which heights its wall stands there.</summary>
/// <param name="At">Plan.</param>
/// <param name="Low">Lower end of the wall; where the surface turns over, hardly below the upper one.</param>
/// <param name="High">Upper end.</param>
public readonly record struct CorridorPlace(Vec2 At, double Low, double High);

/// <summary>
/// The border of a body's shadow, as it is seen along z, with the heights of the walls over it: what lies above a height is seen from above and what lies below
/// it from below, as long as the height is one of the wall's. Loops of holes are those that can be looked through.
/// </summary>
/// <param name="Shadow">The shadow.</param>
/// <param name="Loops">Its rings, outer ones counter-clockwise, holes clockwise.</param>
/// <param name="Body">Lowest and highest height of the drafted body over a place of the plan; low above high where there is none.</param>
public sealed record Corridor(PlanRegion Shadow, ImmutableArray<ImmutableArray<CorridorPlace>> Loops, Func<Vec2, (double Low, double High)> Body)
{
    /// <summary>How far a section of a mesh stands out at most, in lattice steps: a hair for either side and one for both, and what it is straightened by.</summary>
    private const double Hair = 40;

    /// <summary>Reads the corridor off both drafted sides of a body: a wall is what is steeper than the draft.</summary>
    /// <param name="upper">The body drafted upward, on a ground below all of it.</param>
    /// <param name="lower">The same with z negated, drafted upward too.</param>
    /// <param name="spacing">Longest distance of places along the border, mm.</param>
    public static Corridor Of(DraftedTerrain upper, DraftedTerrain lower, double spacing)
    {
        var lattice = upper.Lattice;
        var shadow = MeshSection.Of(lattice, [upper.GroundAbove(upper.GroundHeight), lower.GroundAbove(lower.GroundHeight)]).WithoutSlivers(Hair * lattice.Step);
        shadow = shadow.WithoutHoles(IsClosed);
        var slack = Hair * lattice.Step / Math.Tan(upper.OpenAngle);
        return new(shadow, [.. shadow.Rings().Select(r => Along(r, spacing).Select(Place).ToImmutableArray())], Body);

        // What both drafts fill cannot be looked through.
        bool IsClosed(Vec2 p) => Body(p) is var (low, high) && low <= high;

        (double Low, double High) Body(Vec2 p) => (-lower.At(p).Height, upper.At(p).Height);

        CorridorPlace Place(Vec2 p)
        {
            var (low, high) = (-lower.At(p).Height - slack, upper.At(p).Height + slack);
            // A sharp edge: by rounding the border lies beside it.
            return low <= high ? new(p, low, high) : new(p, (low + high) / 2, (low + high) / 2);
        }
    }

    /// <summary>The line through the corridor that is as flat as it can be, loop by loop; level where a level one fits.</summary>
    /// <param name="preferred">Height of level loops, as near as they can be.</param>
    /// <param name="clear">It keeps so far from either end of a wall, mm, or half way to the middle of a low one.</param>
    public ImmutableArray<ImmutableArray<Vec3>> Line(double preferred, double clear = 0) => [.. Loops.Select(loop =>
    {
        var (at, length) = (new double[loop.Length], 0.0);
        for (var i = 0; i < loop.Length; i++)
        {
            at[i] = length;
            length += Vec2.Distance(loop[i].At, loop[(i + 1) % loop.Length].At);
        }

        var heights = TautString.Closed(at, length, [.. loop.Select(p => Math.Min(clear, (p.High - p.Low) / 4) is var c ? (p.Low + c, p.High - c) : default)], preferred);
        return loop.Select((p, i) => new Vec3(p.At.X, p.At.Y, heights[i])).ToImmutableArray();
    })];

    /// <summary>The heights at which a plane parts the body as well as any line; low above high where there is none.</summary>
    public (double Low, double High) Level => TautString.Level(Loops.SelectMany(l => l).Select(p => (p.Low, p.High)));

    private static IEnumerable<Vec2> Along(ImmutableArray<Vec2> ring, double spacing)
    {
        for (var i = 0; i < ring.Length; i++)
        {
            var (a, b) = (ring[i], ring[(i + 1) % ring.Length]);
            var parts = Math.Max(1, (int)Math.Ceiling(Vec2.Distance(a, b) / spacing));
            for (var j = 0; j < parts; j++) yield return a + ((double)j / parts * (b - a));
        }
    }
}
