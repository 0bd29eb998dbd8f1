using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Upright holes through a body, from its underside to a level part of its upper terrain.</summary>
public class ThroughPocketTests
{
    private static readonly PlanRegion Plate = PlanRegion.Rectangle(new(-60, -40), new(60, 40));

    [Fact]
    public void They_take_away_their_prisms_and_leave_a_closed_body() =>
        Gen.Select(Gen.Int[3, 40], Gen.Double[3, 12], Gen.Double[-30, -10], Gen.Double[3, 10], Gen.Bool).Sample((sides, diameter, x, thickness, isPlain) =>
        {
            var hole = OnLattice(TerrainBuild.Circle(diameter, new(x, 4), sides));
            var other = OnLattice(TerrainBuild.Circle(6, new(45, -25), 24));
            Prism[] prisms = isPlain ? [new(Plate, 0, thickness)] : [new(Plate, 0, thickness), new(PlanRegion.Rectangle(new(5, -10), new(30, 15)), 0, thickness + 9)];
            var whole = Solid(prisms);
            var drilled = Solid(prisms, UprightPocket.Through(hole), UprightPocket.Through(other), new(OnLattice(TerrainBuild.Circle(5, new(45, 25), 20)), 2));
            var report = MeshInspection.Inspect(drilled);
            Assert.True(report.IsValid, $"{report}");
            var prism = (hole.Area + other.Area) * TerrainBuild.Lattice.Snap(thickness);
            var blind = OnLattice(TerrainBuild.Circle(5, new(45, 25), 20)).Area * 2;
            Assert.Equal(whole.Volume() - prism - blind, drilled.Volume(), 1e-6 * whole.Volume());
            // Euler: two handles.
            Assert.Equal(-2, drilled.Vertices.Length - (drilled.Facets.Length / 2));
        }, iter: 60);

    [Fact]
    public void Where_the_upper_terrain_is_not_level_there_is_none() =>
        Assert.Contains(
            "not level",
            Assert.Throws<ArgumentException>(() => Solid([new(Plate, 0, 6)], UprightPocket.Through(TerrainBuild.Circle(10, new(60, 0), 12)))).Message, StringComparison.Ordinal);

    private static PlanRegion OnLattice(PlanRegion region) => PlanRegion.UnionOn(TerrainBuild.Lattice, [region]);

    private static TriangleMesh Solid(Prism[] prisms, params UprightPocket[] pockets) =>
        TerrainSolid.Build(TerrainBuild.Terrain(prisms, 2, 0.01), null, [], [.. pockets], TerrainBuild.Lattice, new(0.01));
}
