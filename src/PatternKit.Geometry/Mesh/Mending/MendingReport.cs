using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>What mending can do to a mesh, in the order in which it is done.</summary>
public enum MendingStep
{
    /// <summary>Facets with a corner that is NaN or infinite, dropped.</summary>
    NonFiniteFacetsDropped,

    /// <summary>Vertices that no facet names, dropped.</summary>
    IdleVerticesDropped,

    /// <summary>Vertices joined to an earlier one at the same position.</summary>
    VerticesJoined,

    /// <summary>Vertices at open edges moved onto one nearby.</summary>
    NearVerticesJoined,

    /// <summary>Facets without area dropped: a corner named twice, or all three on one line.</summary>
    DegenerateFacetsDropped,

    /// <summary>Facets cut in pieces, because a corner of the other side lies on their open edge.</summary>
    FacetsSplit,

    /// <summary>Facets on the corners of an earlier one, dropped.</summary>
    DuplicateFacetsDropped,

    /// <summary>Pairs of facets back to back where two bodies touch, dropped together, so that the two become one.</summary>
    InnerWallFacetsDropped,

    /// <summary>Facets turned over.</summary>
    FacetsTurned,

    /// <summary>Holes filled.</summary>
    HolesFilled,

    /// <summary>Facets that fill them.</summary>
    FacetsAdded,

    /// <summary>Shells and open patches dropped as too small to matter.</summary>
    StrayShellsDropped,

    /// <summary>Vertices at which parts of the surface touch in a point, copied so that each part has its own.</summary>
    PinchesParted,

    /// <summary>Closed shells that run through others or through themselves, cut there and joined to what they hold together.</summary>
    ShellsJoined,
}

/// <summary>Why a hole was left open.</summary>
public enum HoleLeft
{
    /// <summary>Larger than the limits allow to guess.</summary>
    TooLarge,

    /// <summary>Every filling tried would cross the mesh or itself, or lie on it.</summary>
    NoCleanFilling,

    /// <summary>Its open edges do not close to a loop, as at edges that more than two facets share.</summary>
    NoLoop,
}

/// <summary>A hole that is still open.</summary>
/// <param name="At">Mean of its corners, mm.</param>
/// <param name="Edges">Number of its open edges.</param>
/// <param name="Length_mm">Length of its border.</param>
/// <param name="Why">Why it was left.</param>
public readonly record struct OpenHole(Vec3 At, int Edges, double Length_mm, HoleLeft Why);

/// <summary>What was done to a mesh, and what is still wrong with it.</summary>
/// <param name="Done">The steps that changed something, with how often.</param>
/// <param name="Holes">The holes still open.</param>
/// <param name="After">The inspection of the mended mesh, with the first place of every defect left.</param>
public sealed record MendingReport(ImmutableArray<(MendingStep Step, int Count)> Done, ImmutableArray<OpenHole> Holes, MeshReport After)
{
    /// <summary>Whether the mended mesh bounds a body.</summary>
    public bool IsMended => After.IsValid;

    /// <summary>How often a step was done.</summary>
    public int Count(MendingStep step) => Done.FirstOrDefault(d => d.Step == step).Count;

    /// <summary>One paragraph for a person.</summary>
    public override string ToString()
    {
        var c = CultureInfo.InvariantCulture;
        var done = Done.IsEmpty ? "nothing to do" : string.Join(", ", Done.Select(d => string.Create(c, $"{d.Step} {d.Count}")));
        var holes = string.Concat(Holes.Take(10).Select(h => string.Create(c, $" Open: {h.Edges} edges, {h.Length_mm:0.###} mm around {h.At}, {h.Why}.")));
        return $"Mending: {done}.{holes} {After}";
    }
}
