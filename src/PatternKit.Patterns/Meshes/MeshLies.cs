using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Patterns.Meshes;

/// <summary>What counts against a way to lie, weighted.</summary>
/// <param name="Caught">Share of the part caught behind the draw.</param>
/// <param name="Recess">Share left to the other half's sand.</param>
/// <param name="NotFlat">Share of the back that is not flat.</param>
/// <param name="Depth">Depth of draw over the diagonal.</param>
/// <param name="Upright">Share of the skin that is too upright, what leans over counted twice.</param>
public readonly record struct LieCost(double Caught, double Recess, double NotFlat, double Depth, double Upright)
{
    /// <summary>Less is better.</summary>
    public double Sum => Caught + Recess + NotFlat + Depth + Upright;
}

/// <summary>A way for a mesh to lie.</summary>
/// <param name="Lie">How it lies.</param>
/// <param name="Source">Why the direction was tried.</param>
/// <param name="Cost">What counts against it.</param>
public sealed record RankedLie(MeshLie Lie, DirectionSource Source, LieCost Cost);

/// <summary>Ranks the ways in which a mesh can lie and part.</summary>
public static class MeshLies
{
    /// <summary>Directions are one below this angle; a face counts as flat in the joint to this height, as a part of the diagonal.</summary>
    private const double Merge = 5 * Math.PI / 180, Flat = 1e-4;

    private const int Spread = 40, CoarseCells = 96, FineCells = 192, Best = 8, Shown = 6;

    /// <summary>The best few ways, the best first.</summary>
    /// <param name="mesh">Closed and facing outward.</param>
    /// <param name="skin">Of the pattern; with the height of the part it decides which walls count as upright.</param>
    /// <param name="weights">What counts how much, and what a flat back is worth.</param>
    /// <param name="draft">By height.</param>
    public static ImmutableArray<RankedLie> Rank(TriangleMesh mesh, PatternSkin skin, LyingTable weights, DraftTable draft)
    {
        var (part_mm3, diagonal) = (mesh.Volume(), mesh.Bounds().Size.Length);
        var skin_mm2 = mesh.Facets.Sum(f => mesh.AreaNormal(f).Length) / 2;
        var asked = DraftRule.For(draft, diagonal / 2, false, skin).Value;
        var search = new DirectionSearch(Spread, Merge, asked, Flat * diagonal, CoarseCells, FineCells, Best);
        // Whether a flat end will be the joint is only known where it is laid; until then it gets the benefit of the doubt.
        var found = MeshDirections.Rank(mesh, search, s =>
            Cost(s.Gaps_mm3, s.Added_mm3 - s.Gaps_mm3, Math.Max(s.FlatBelow, s.FlatAbove), s.Range.Length, s.Steep_mm2 + s.Overhung_mm2).Sum).Best;
        return
        [
            .. found.Select(s =>
            {
                var lie = MeshLie.Of(mesh, s.Direction, null, skin, weights, draft);
                return new RankedLie(lie, s.Source, Cost(lie.Caught_mm3, lie.Added_mm3 - lie.Caught_mm3, lie.FlatShare, lie.Range.Length, lie.Walls.Area_mm2 + lie.Walls.Leaning_mm2));
            }).OrderBy(r => r.Cost.Sum).Take(Shown),
        ];

        LieCost Cost(double caught_mm3, double recess_mm3, double flat, double depth, double upright_mm2) => new(
            weights.Caught.Value * caught_mm3 / part_mm3, weights.Recess.Value * recess_mm3 / part_mm3, weights.NotFlat.Value * (1 - flat),
            weights.Depth.Value * depth / diagonal, weights.Upright.Value * upright_mm2 / skin_mm2);
    }
}
