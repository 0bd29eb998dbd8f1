using PatternKit.Geometry.Tests.Reference;

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

    /// <summary>Whether <see cref="Build"/> calls the product yet.</summary>
    public static bool IsConnected => false;

    /// <summary>Drafts the part's half, meshes it within <see cref="Tolerance_mm"/> and closes it at the parting.</summary>
    public static DraftedBody Build(ReferencePart part) =>
        throw new NotImplementedException($"The draft of {part.Name} is not connected to the benchmarks yet.");
}
