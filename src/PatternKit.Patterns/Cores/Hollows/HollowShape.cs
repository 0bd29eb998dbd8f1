using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>A hollow of a mesh that lies in the joint and opens sideways, at pattern size.</summary>
/// <param name="Name">For people.</param>
/// <param name="Joint_mm">Height of the joint.</param>
/// <param name="Above">The skin that closes it off above the joint, as ground that looks up; heights over the joint.</param>
/// <param name="Below">That below the joint, turned over; depths under it.</param>
/// <param name="Mouths">Where it opens, one at the least.</param>
/// <param name="Centre">Of the hollow, in plan.</param>
/// <param name="Skin_mm2">Area of its skin.</param>
/// <param name="Largest_mm">Its largest size.</param>
/// <param name="Lattice">Of the core and its box.</param>
/// <param name="Tolerance">Of their surfaces.</param>
internal sealed record HollowShape(
    string Name, double Joint_mm, TriangleMesh Above, TriangleMesh Below, ImmutableArray<SideMouth> Mouths, Vec2 Centre, double Skin_mm2, double Largest_mm, Lattice Lattice,
    MeshingTolerance Tolerance)
{
    /// <summary>Whether all of it lies on one side of the joint.</summary>
    public bool IsHalf => Above.Facets.IsEmpty || Below.Facets.IsEmpty;
}
