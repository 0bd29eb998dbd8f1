using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Pieces;

/// <summary>A piece of a body, before it is made.</summary>
/// <param name="Place">For people and files: "left", "right-back"; in plan of the mould, seen from above.</param>
/// <param name="Within">The part of the plan that it stands on, and what lies beside the body.</param>
public sealed record PlannedPiece(string Place, PlanRegion Within);

/// <summary>Where a body is cut so that the printer's bed takes its pieces.</summary>
/// <param name="Cuts">In plan of the mould, in the order in which they are made: those across the longer side first.</param>
/// <param name="Pieces">From the left to the right, then from the front to the back.</param>
/// <param name="Body">Plan of the whole body.</param>
/// <param name="Seams">The cuts as far as they lie in the body, for drawings.</param>
/// <param name="Taken">Where nothing may be sunk into the joint face: along the cuts and round their dovetails.</param>
/// <param name="Gap_mm">Between the faces of two pieces.</param>
public sealed record BedCutPlan(
    ImmutableArray<DovetailCut> Cuts, ImmutableArray<PlannedPiece> Pieces, PlanRegion Body, ImmutableArray<ImmutableArray<Vec2>> Seams, PlanRegion Taken, double Gap_mm);
