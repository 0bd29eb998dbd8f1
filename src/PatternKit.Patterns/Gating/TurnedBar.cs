using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Gating;

/// <summary>A bar that stands through the cope, turned about an upright axis and drawn upward: a sprue or a feeder.</summary>
internal static class TurnedBar
{
    /// <summary>A foot is measured this far over it, mm.</summary>
    public const double Hair_mm = 0.01;

    // A polygon of the circle's area; its corners stand out by 0.07 % of the radius.
    private const int Corners = 96;

    /// <summary>The bar, with its sections measured on the mesh.</summary>
    /// <param name="kind">What it leaves.</param>
    /// <param name="name">Of its file.</param>
    /// <param name="at">Its axis in plan.</param>
    /// <param name="profile">Radius and height of every ring, heights growing; the last is the rim, which is its plan.</param>
    /// <param name="lattice">Where its corners are.</param>
    /// <param name="cuts">Name, height and reckoned area of the sections.</param>
    public static GatingBar Of(
        BarKind kind, string name, Vec2 at, ImmutableArray<(double Radius, double Height)> profile, Lattice lattice, params IEnumerable<(string Name, double Height, double Reckoned_mm2)> cuts)
    {
        var mesh = TurnedSolid.Build(at, profile, Corners, lattice);
        PlanRegion Section(double z) => PlanRegion.EvenOdd(MeshSection.AtHeight(mesh, lattice.Snap(z)).Select(l => PlanPath.Polygon([.. l])), 1);
        return new(kind, PlacedHalves.DrawnUpward(name, mesh), Section(profile[^1].Height), [.. cuts.Select(c => new BarSectionCut(c.Name, Section(c.Height), c.Reckoned_mm2, new(at.X, at.Y, lattice.Snap(c.Height)), new(0, 0, 1)))], []);
    }
}
