using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Builds drafted solids from prisms, as the product does, with the joint at zero.</summary>
internal static class TerrainBuild
{
    public static Lattice Lattice { get; } = Lattice.For(127);

    /// <summary>Plateaus of the highest solid over every piece of plan.</summary>
    public static ImmutableArray<Plateau> Plateaus(IReadOnlyList<Prism> prisms) =>
        [.. ColumnMapBuilder.Build(prisms, Lattice.Step).Cells.Where(c => !c.Solid.IsEmpty).Select(c => new Plateau(c.Region, c.Solid[^1].High))];

    public static DraftedTerrain Terrain(IReadOnlyList<Prism> prisms, double degrees, double tolerance) =>
        new(Plateaus(prisms), 0, degrees * Math.PI / 180, degrees * Math.PI / 180, Lattice, tolerance);

    public static TriangleMesh Solid(DraftedTerrain terrain, double tolerance) =>
        TerrainSolid.Build(terrain, null, [], [], Lattice, new(tolerance));

    public static IReadOnlyList<Prism> Prisms(ReferencePart part) =>
        [.. part.Slices().Select(s => new Prism(s.Region, 0, s.Height))];

    public static PlanRegion Circle(double diameter, Vec2 at, int sides) =>
        PlanRegion.Polygon([.. ReferencePart.Circle(diameter, at, sides)]);

    /// <summary>The prisms as text that makes them again, for messages.</summary>
    public static string Describe(IEnumerable<Prism> prisms) =>
        string.Join("; ", prisms.Select(p => FormattableString.Invariant($"{(p.Removes ? "-" : "+")}{p.High.AtOrigin:R} {p.Region.Geometry.AsText()}")));

    /// <summary>Least angle from the vertical of the facets above the joint, degrees.</summary>
    public static double LeastDraftDegrees(TriangleMesh mesh) =>
        mesh.Facets.Select(mesh.AreaNormal).Where(n => n.Z > 0 || n.Z == 0).Min(n => Math.Atan2(n.Z, n.Plan.Length) * 180 / Math.PI);
}
