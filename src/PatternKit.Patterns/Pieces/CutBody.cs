using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Pieces;

/// <summary>A body that is printed in pieces.</summary>
/// <param name="Whole">As it is when they are joined; it has no file.</param>
/// <param name="Plan">The cuts.</param>
/// <param name="Pieces">In the order of the plan.</param>
public sealed record CutBody(KitBody Whole, BedCutPlan Plan, ImmutableArray<KitBody> Pieces)
{
    /// <summary>Makes the pieces of a body.</summary>
    /// <param name="whole">The body.</param>
    /// <param name="plan">Its cuts.</param>
    /// <param name="pockets">Sunk into it, clear of the cuts.</param>
    /// <param name="body">The mesh of what stands within a part of the plan, in the frame in which the body was made.</param>
    /// <param name="place">Puts such a mesh, by the name of its piece, into the mould and onto the bed; upright walls are those of the pockets given.</param>
    public static CutBody Of(
        KitBody whole, BedCutPlan plan, ImmutableArray<UprightPocket> pockets, Func<PlanRegion, TriangleMesh> body, Func<string, TriangleMesh, ImmutableArray<UprightPocket>, KitBody> place)
    {
        var made = new KitBody?[plan.Pieces.Length];
        Parallel.For(0, made.Length, i =>
        {
            var piece = plan.Pieces[i];
            // A corner of the bed may hold nothing of the body.
            if (body(piece.Within) is { Facets.IsEmpty: false } mesh) made[i] = place($"{whole.Name}-{piece.Place}", mesh, [.. pockets, new(piece.Within, 0)]);
        });
        return new(whole, plan, [.. made.OfType<KitBody>()]);
    }

    /// <summary>Bodies as they are printed: each cut one as its pieces.</summary>
    /// <param name="bodies">Whole bodies.</param>
    /// <param name="cut">Those of them that are cut.</param>
    public static IEnumerable<KitBody> InPieces(IEnumerable<KitBody> bodies, ImmutableArray<CutBody> cut) =>
        bodies.SelectMany(b => cut.FirstOrDefault(c => c.Whole == b)?.Pieces ?? [b]);

    /// <summary>The place of a piece in plan of the mould: "left".</summary>
    public string PlaceOf(KitBody piece) => piece.Name[(Whole.Name.Length + 1)..];
}
