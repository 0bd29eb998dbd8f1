using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>What the pattern of a mesh is joined with, so that the mould gets the seats of its cores: their prints grown by the clearance, their ends sloped.</summary>
internal static class HollowSeats
{
    private const double Chord_mm = 0.005;

    /// <summary>The prints in a half, heights from the joint along its draw.</summary>
    /// <param name="cores">With their prints.</param>
    /// <param name="half">Which.</param>
    public static TriangleMesh Ground(IEnumerable<HollowCore> cores, MouldHalf half)
    {
        var ground = new GroundSoup();
        foreach (var (core, print) in cores.SelectMany(c => c.Prints.Select(p => (c, p))))
        {
            var (mouth, side) = (print.Mouth!, Grow(core));
            var end = print.End_mm + (side / Math.Cos(core.EndTaper));
            PrintGround.Add(ground, mouth, Grown(mouth.Above, mouth.Below, side, half), 0, end, core.EndTaper);
            if (print.Flat is { } flat) PrintGround.Add(ground, mouth, Grown(mouth.Above, flat, side, half), print.Face_mm - side, end, core.EndTaper);
        }

        return ground.Mesh();
    }

    /// <summary>What the prints of a half add to it beyond the metal, before draft, mm³.</summary>
    public static double Added_mm3(IEnumerable<HollowCore> cores, MouldHalf half) =>
        cores.Sum(c => c.Prints.Sum(p => (p.Length_mm + Grow(c)) * Grown(p.Mouth!.Above, p.Flat ?? p.Mouth.Below, Grow(c), half).Area));

    // What both sides may be off is added, so that the clearance is nowhere less.
    private static double Grow(HollowCore core) => core.Side_mm + core.Shape.Tolerance.Error_mm;

    private static PlanRegion Grown(PlanRegion above, PlanRegion below, double by, MouldHalf half)
    {
        var own = half == MouldHalf.Cope ? above : below;
        if (own.IsEmpty) return own;
        var whole = above.Union(Turned(below)).Offset(by, Chord_mm);
        var box = whole.Geometry.EnvelopeInternal;
        return half == MouldHalf.Cope ? whole.Intersection(PlanRegion.Rectangle(new(box.MinX - 1, 0), new(box.MaxX + 1, box.MaxY + 1)))
            : Turned(whole.Intersection(PlanRegion.Rectangle(new(box.MinX - 1, box.MinY - 1), new(box.MaxX + 1, 0))));
    }

    private static PlanRegion Turned(PlanRegion region) => PlanRegion.Union(region.Rings().Select(r => PlanRegion.Polygon([.. r.Select(p => new Vec2(p.X, 0 - p.Y))])));
}
