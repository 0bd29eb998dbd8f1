using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Originals;

/// <summary>A face of a part that has less taper than asked towards the half of the mould that it lies in.</summary>
/// <param name="Half">The half whose sand it drags on; the other half's where it bounds a recess behind the joint. Null where it goes through the joint and drags on both.</param>
/// <param name="Area_mm2">Its area.</param>
/// <param name="Draft">The least taper of its facets, radians; below 0 where it leans over.</param>
/// <param name="BuiltUp_mm">How much it would have to be built up by, square to the draw, where that is most.</param>
/// <param name="MeanBuiltUp_mm">The same on the average.</param>
/// <param name="At_mm">Where it is most.</param>
/// <param name="Facets">Its facets, ascending.</param>
public sealed record UntaperedFace(
    MouldHalf? Half, double Area_mm2, double Draft, double BuiltUp_mm, double MeanBuiltUp_mm, Vec3 At_mm, ImmutableArray<int> Facets);
