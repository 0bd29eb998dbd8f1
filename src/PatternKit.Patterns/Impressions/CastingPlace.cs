using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Impressions;

/// <summary>Where one of several castings of a mould lies.</summary>
/// <param name="Low">Lower corner of its finished part in plan, pattern millimetres.</param>
/// <param name="High">Upper corner.</param>
/// <param name="Part">Which part of the mould it is of.</param>
/// <param name="Share">What part of the metal of all castings is in it.</param>
internal readonly record struct CastingPlace(Vec2 Low, Vec2 High, int Part, double Share)
{
    /// <summary>Its middle in plan.</summary>
    public Vec2 Middle => (Low + High) / 2;

    /// <summary>Which of several castings a place of the plan belongs to: draft and prints reach over the boxes, by less than half of the sand between them.</summary>
    public static int Nearest(ImmutableArray<CastingPlace> castings, Vec2 p)
    {
        var best = 0;
        for (var i = 1; i < castings.Length; i++)
            if ((castings[i].Away(p), Vec2.Distance(castings[i].Middle, p)).CompareTo((castings[best].Away(p), Vec2.Distance(castings[best].Middle, p))) < 0) best = i;
        return best;
    }

    private double Away(Vec2 p) => new Vec2(Math.Max(0, Math.Max(Low.X - p.X, p.X - High.X)), Math.Max(0, Math.Max(Low.Y - p.Y, p.Y - High.Y))).Length;
}
