using PatternKit.Geometry.Grids;

namespace PatternKit.Patterns.Gating;

/// <summary>How the mould stands while it is poured.</summary>
/// <param name="Up">Which way is up, in pattern coordinates: z for a mould that lies flat.</param>
/// <param name="Gate_mm">Height of the ingates along it.</param>
/// <param name="Why">How that was chosen; empty for a mould that lies flat.</param>
public sealed record PouringPosition(GridUp Up, double Gate_mm, string Why = "")
{
    /// <summary>Whether the mould stands on edge, its joint upright.</summary>
    public bool IsOnEdge => Up.Axis != 2;

    /// <summary>The direction that is up, in words.</summary>
    public string UpWord => $"{(Up.IsReversed ? '-' : '+')}{"xyz"[Up.Axis]}";
}
