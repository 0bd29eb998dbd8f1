using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Inset;

/// <summary>How far the faces of a body are moved into it, mm.</summary>
/// <param name="Skin">The faces that slope or lie level, but the foot, along their normals.</param>
/// <param name="Upright">Upright walls, and the ceilings of pockets.</param>
public readonly record struct InsetDistances(double Skin, double Upright);

/// <summary>What is cut off the edge of a foot, mm.</summary>
/// <param name="Width">How far the edge goes back.</param>
/// <param name="Height">How far up the wall.</param>
public readonly record struct FootTrim(double Width, double Height);

/// <summary>A body with its faces moved into it.</summary>
/// <param name="Mesh">Without facets where nothing is left.</param>
/// <param name="IsTrimmed">Whether the edge of the foot was cut back.</param>
public sealed record InsetSolid(TriangleMesh Mesh, bool IsTrimmed);

/// <summary>
/// A body that stands on z = 0 with its faces moved into it, the foot kept: what is printed, and then grows by that much, comes out as the body was.
/// </summary>
public static class InsetBody
{
    private const double Chord_mm = 0.005;

    /// <summary>Makes it; null where the body has faces that hang over, or is a piece of a larger one that is not given.</summary>
    /// <param name="mesh">The body, closed, on z = 0; of a piece that was cut from a body the whole body.</param>
    /// <param name="by">How far.</param>
    /// <param name="trim">What is cut off the edge of the foot; null for nothing. A body with upright walls or holes that go through keeps it.</param>
    /// <param name="within">The plan of the piece.</param>
    /// <param name="lattice">Coordinates of the result.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    public static InsetSolid? Of(TriangleMesh mesh, InsetDistances by, FootTrim? trim, PlanRegion? within, Lattice lattice, MeshingTolerance tolerance)
    {
        if (StandingBody.Of(mesh) is not { IsCut: false } body) return null;
        var pockets = Widened(body.Pockets, by.Upright);
        var upright = Upright(body, within);
        if (trim is { } foot && upright is null && TrimmedFoot.Build(new InsetTerrain(body, by.Skin, lattice.Snap(foot.Height), lattice), foot.Width, pockets, lattice, tolerance) is { } trimmed)
            return new(trimmed, true);
        // Only where the skin is level all round a hole does the mesh of the skin end at one height there.
        return new(
            TerrainSolid.Build(
                new InsetTerrain(body, by.Skin, 0, lattice), null, [], pockets, lattice, tolerance, upright is null ? null : PlanRegion.UnionOn(lattice, [upright.Offset(-by.Upright, tolerance.Error_mm)])),
            false);
    }

    /// <summary>Level sections of a body that stands on z = 0, its pockets filled; none where it has faces that hang over.</summary>
    /// <param name="mesh">The body.</param>
    /// <param name="heights">Where.</param>
    public static IEnumerable<(double Height, PlanRegion Section)> Sections(TriangleMesh mesh, IEnumerable<double> heights) =>
        StandingBody.Of(mesh) is { } body ? heights.Select(z => (z, body.Above(z))) : [];

    /// <summary>The plan inside of upright walls: those of a block, those of a cut, those of holes through a face that is not level; null where there are none.</summary>
    private static PlanRegion? Upright(StandingBody body, PlanRegion? within)
    {
        var inside = body.Outline is { } outline ? within?.Intersection(outline) ?? outline : within;
        return body.Slanted.IsEmpty ? inside : (inside ?? body.Plan.Offset(1, Chord_mm)).Difference(body.Slanted);
    }

    /// <summary>Pockets with their walls and ceilings moved outward; where one lies in another, the deeper takes its place.</summary>
    private static ImmutableArray<UprightPocket> Widened(ImmutableArray<UprightPocket> pockets, double by)
    {
        if (by == 0) return pockets;
        var (taken, widened) = (PlanRegion.Empty, ImmutableArray.CreateBuilder<UprightPocket>());
        foreach (var p in pockets.OrderByDescending(p => p.Depth))
        {
            var all = p.Region.Offset(by, Chord_mm);
            widened.Add(new(all.Difference(taken), p.Depth + by));
            taken = taken.Union(all);
        }

        return widened.ToImmutable();
    }
}
