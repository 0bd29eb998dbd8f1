namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>How far mending may go. What is beyond is left as it is and told.</summary>
public sealed record MendingLimits
{
    /// <summary>
    /// Corners at open edges that are no farther apart than this share of the box's diagonal are joined, and open edges are split at corners
    /// that lie as near to them.
    /// </summary>
    public double WeldShareOfDiagonal { get; init; } = 1e-6;

    /// <summary>A bent hole with more edges is left open. A plane hole has one filling, so it is filled whatever its size.</summary>
    public int MostHoleEdges { get; init; } = 64;

    /// <summary>A bent hole of more than three edges whose border is longer than this share of the box's diagonal is left open.</summary>
    public double HoleShareOfDiagonal { get; init; } = 0.5;

    /// <summary>
    /// A closed shell of less than this share of the largest shell's volume is dropped, and an open patch of less than its two-thirds power
    /// of the largest patch's area.
    /// </summary>
    public double StrayShareOfVolume { get; init; } = 1e-8;
}
