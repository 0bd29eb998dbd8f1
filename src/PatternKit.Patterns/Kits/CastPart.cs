using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Kits;

/// <summary>A part of which castings are in the mould.</summary>
/// <param name="Name">Of its job; names of its features begin with it where it is not the job's own.</param>
/// <param name="Title">Of its job.</param>
/// <param name="Box_mm">Of the finished part about its own origin, as it lies in the mould.</param>
/// <param name="Volume_mm3">Of the finished part.</param>
/// <param name="Each_kg">Weight of one casting.</param>
/// <param name="At_mm">Where its origin lies for each casting, job coordinates.</param>
public sealed record CastPart(string Name, string Title, Box3 Box_mm, double Volume_mm3, double Each_kg, ImmutableArray<Vec2> At_mm);
