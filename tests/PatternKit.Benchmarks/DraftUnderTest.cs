using System.Diagnostics;
using PatternKit.Geometry.Tests.Reference;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Benchmarks;

/// <summary>A drafted body as the product makes it.</summary>
/// <param name="Triangles">Facets of the closed body.</param>
/// <param name="Volume_mm3">Its volume.</param>
/// <param name="Seconds">From polygons to closed mesh.</param>
internal sealed record DraftedBody(int Triangles, double Volume_mm3, double Seconds);

/// <summary>The one place where the product's draft is called by the benchmarks.</summary>
internal static class DraftUnderTest
{
    /// <summary>Largest height error of the mesh.</summary>
    public const double Tolerance_mm = 0.02;

    /// <summary>Drafts the part's half, meshes it within <see cref="Tolerance_mm"/> and closes it at the parting.</summary>
    public static DraftedBody Build(ReferencePart part)
    {
        // The slices are the polygons that the reference gets too; what follows is the product's own way.
        var prisms = TerrainBuild.Prisms(part);
        var clock = Stopwatch.StartNew();
        var mesh = TerrainBuild.Solid(TerrainBuild.Terrain(prisms, part.Draft_deg, Tolerance_mm), Tolerance_mm);
        var seconds = clock.Elapsed.TotalSeconds;
        return new(mesh.Facets.Length, mesh.Volume(), seconds);
    }
}
