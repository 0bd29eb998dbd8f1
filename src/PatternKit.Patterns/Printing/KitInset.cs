using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Patterns.Printing;

/// <summary>A body as its file has it.</summary>
/// <param name="AsPrinted">On the bed.</param>
/// <param name="InMould">In its place in the mould.</param>
/// <param name="IsTrimmed">Whether its edge on the bed is cut back for the first layer.</param>
public sealed record InsetFile(TriangleMesh AsPrinted, TriangleMesh InMould, bool IsTrimmed);

/// <summary>
/// What is taken off the bodies in their files, so that what printing, filler and paint add brings them to size. All else in the kit is about the finished bodies.
/// </summary>
/// <param name="Growth">How much.</param>
/// <param name="Files">By the name of the body.</param>
/// <param name="AsDrawn">Bodies to print of which nothing could be taken off, with why.</param>
/// <param name="Untrimmed">Bodies whose edge on the bed is not cut back though it lies at the joint.</param>
public sealed record KitInset(PrintGrowth Growth, ImmutableSortedDictionary<string, InsetFile> Files, ImmutableArray<(string Name, string Why)> AsDrawn, ImmutableArray<string> Untrimmed);
