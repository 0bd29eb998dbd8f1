using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Exchange.ThreeMf;

/// <summary>What a model part holds.</summary>
/// <param name="Bodies">The bodies of the build list with their names, mm.</param>
/// <param name="Unit">The unit as the file names it; null where it names none, which means millimetres.</param>
/// <param name="Notes">What was skipped.</param>
internal sealed record ThreeMfModel(ImmutableArray<(string Name, TriangleMesh Mesh)> Bodies, string? Unit, ImmutableArray<ReadNote> Notes);
