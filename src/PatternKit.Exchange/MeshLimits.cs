namespace PatternKit.Exchange;

/// <summary>What a mesh file may hold at most, whatever its format.</summary>
internal static class MeshLimits
{
    /// <summary>Facets, and vertices.</summary>
    public const int MostFacets = 10_000_000;

    /// <summary>Size of a coordinate: no casting is a thousand kilometres long.</summary>
    public const double LargestCoordinate = 1e9;
}
