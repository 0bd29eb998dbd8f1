using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Drafted bodies against closed forms (solids of Steiner's formula and frusta) and a mesh-boolean library.</summary>
public class DraftedSolidTests
{
    private const double Tolerance = 0.01;
    private static readonly double Tangent = Math.Tan(2 * Math.PI / 180);

    public static TheoryData<string> Parts => [.. ReferencePart.Names];

    [Fact]
    public void A_drafted_block_has_the_volume_of_the_Steiner_formula()
    {
        const double l = 60, w = 40, h = 20;
        var volume = Volume(new Prism(PlanRegion.Rectangle(new(0, 0), new(l, w)), 0, h));
        var expected = (l * w * h) + ((l + w) * h * h * Tangent) + (Math.PI / 3 * h * h * h * Tangent * Tangent);
        AssertRelative(expected, volume, 1e-4);
    }

    [Fact]
    public void A_drafted_boss_is_a_frustum()
    {
        // Polygon of n sides circumscribed by its planes: a frustum of regular polygons.
        const int n = 96;
        const double d = 24, h = 25;
        var volume = Volume(new Prism(TerrainBuild.Circle(d, new(3, 4), n), 0, h));
        var apothem = d / 2 * Math.Cos(Math.PI / n);
        var (a, b) = (apothem, apothem + (h * Tangent));
        var expected = n * Math.Tan(Math.PI / n) * h / 3 * ((a * a) + (a * b) + (b * b));
        AssertRelative(expected, volume, 1e-5);
    }

    [Fact]
    public void A_drafted_hole_is_a_frustum_that_narrows_towards_the_joint()
    {
        const int n = 96;
        const double d = 10, h = 18;
        var plate = new Prism(PlanRegion.Rectangle(new(-30, -30), new(30, 30)), 0, h);
        var holed = Volume(plate, new Prism(TerrainBuild.Circle(d, new(0, 0), n), 0, h, Removes: true));
        var apothem = d / 2 * Math.Cos(Math.PI / n);
        var (a, b) = (apothem, apothem - (h * Tangent));
        var hole = n * Math.Tan(Math.PI / n) * h / 3 * ((a * a) + (a * b) + (b * b));
        AssertRelative(Volume(plate) - hole, holed, 1e-5);
    }

    [Fact]
    public void A_hole_that_closes_before_the_joint_is_a_pyramid()
    {
        // 2 × 2 mm square through 50 mm: closes 28.6 mm down.
        const double side = 2, h = 50;
        var plate = new Prism(PlanRegion.Rectangle(new(-20, -20), new(20, 20)), 0, h);
        var holed = Volume(plate, new Prism(PlanRegion.Rectangle(new(-side / 2, -side / 2), new(side / 2, side / 2)), 0, h, Removes: true));
        var depth = side / 2 / Tangent;
        AssertRelative(Volume(plate) - (side * side * depth / 3), holed, 1e-6);
    }

    [Fact]
    public void A_drafted_slot_narrows_on_all_four_sides()
    {
        const double l = 30, w = 6, h = 15;
        var plate = new Prism(PlanRegion.Rectangle(new(-30, -20), new(30, 20)), 0, h);
        var slotted = Volume(plate, new Prism(PlanRegion.Rectangle(new(-l / 2, -w / 2), new(l / 2, w / 2)), 0, h, Removes: true));
        // ∫ (l − 2 t z)(w − 2 t z) dz, concave corners stay sharp.
        var slot = (l * w * h) - ((l + w) * Tangent * h * h) + (4 * Tangent * Tangent * h * h * h / 3);
        AssertRelative(Volume(plate) - slot, slotted, 1e-6);
    }

    [Theory]
    [InlineData(12)]
    [InlineData(2)]
    public void A_pocket_in_a_pocket_takes_away_both_exactly(double deep)
    {
        // A recess 20 × 10, 4 mm deep, with a round hole in it that goes deeper, or less deep: a boss in the recess.
        var terrain = TerrainBuild.Terrain([new Prism(PlanRegion.Rectangle(new(-30, -20), new(30, 20)), 0, 18)], 2, Tolerance);
        var (recess, hole) = (PlanRegion.Rectangle(new(-10, -5), new(10, 5)), TerrainBuild.Circle(6, new(1, 0.5), 48));
        var solid = Build();
        var pocketed = Build(new(hole, deep), new(recess.Difference(hole), 4));
        MeshAssert.Valid(pocketed);
        var area = 48 / 2.0 * 9 * Math.Sin(2 * Math.PI / 48);
        // Outlines are rounded to the lattice.
        Assert.Equal((area * deep) + ((200 - area) * 4), solid.Volume() - pocketed.Volume(), 0.005);

        Geometry.Mesh.TriangleMesh Build(params UprightPocket[] pockets) => TerrainSolid.Build(terrain, null, [], [.. pockets], TerrainBuild.Lattice, new(Tolerance));
    }

    [Fact]
    public void Planar_faces_lie_where_arithmetic_says()
    {
        var prisms = new Prism[] { new(PlanRegion.Rectangle(new(0, 0), new(60, 40)), 0, 12), new(PlanRegion.Rectangle(new(20, 10), new(40, 30)), 0, 20) };
        var mesh = TerrainBuild.Solid(TerrainBuild.Terrain(prisms, 2, Tolerance), Tolerance);
        var k = 1 / Tangent;
        Assert.All(mesh.Vertices, v =>
        {
            // Every vertex lies on a top face, the joint, or below the plane of a side wall by nothing but rounding.
            var outside = Math.Max(Math.Max(-v.X, v.X - 60), Math.Max(-v.Y, v.Y - 40));
            if (outside <= 0) return;
            Assert.True(v.Z <= 12 - (k * outside) + 0.001, $"{v} is above its wall");
        });
        Assert.Contains(mesh.Vertices, v => v.Z == 20);
        Assert.Contains(mesh.Vertices, v => v.Z == 12);
        Assert.Equal(0, mesh.Vertices.Min(v => v.Z));
        Assert.Equal(60 + (12 * Tangent), mesh.Bounds().High.X, 3);
    }

    [Theory]
    [MemberData(nameof(Parts))]
    public void The_volume_agrees_with_the_Minkowski_sum_of_a_mesh_boolean_library(string name)
    {
        ReferenceGate.NeedsManifold();
        var part = ReferencePart.Load(name);
        var terrain = TerrainBuild.Terrain(TerrainBuild.Prisms(part), part.Draft_deg, Tolerance);
        var mesh = TerrainBuild.Solid(terrain, Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= part.Draft_deg - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)} of {part.Draft_deg}");

        // npm manifold-3d; its cone has 32 facets inside the true one, so it falls short by at most 0.64 % of the corner cones.
        var reference = ManifoldReference.Draft(part, new() { ConeFacets = 32 });
        AssertRelative(reference.Volume_mm3, mesh.Volume(), 2e-4);

        // Nowhere below the part: the true drafted heights at places all over it.
        var oracle = new OffsetOracle(part.Slices(), part.Tangent);
        var random = new Random(7);
        var box = mesh.Bounds();
        for (var i = 0; i < 400; i++)
        {
            var p = new Numerics.Vec2(box.Low.X + (random.NextDouble() * box.Size.X), box.Low.Y + (random.NextDouble() * box.Size.Y));
            var truth = Math.Max(0, oracle.Height(p));
            var ours = terrain.At(p).Height;
            // Outlines are rounded to the lattice, so a wall may stand one step inside that of the unrounded polygon.
            Assert.True((truth - ours) * part.Tangent <= TerrainBuild.Lattice.Step, $"at {p} the terrain is {truth - ours} mm below the cone envelope");
            Assert.True((ours - truth) * part.Tangent <= Tolerance, $"at {p} the wall stands out by {(ours - truth) * part.Tangent} mm");
        }
    }

    private static double Volume(params Prism[] prisms)
    {
        var mesh = TerrainBuild.Solid(TerrainBuild.Terrain(prisms, 2, Tolerance), Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= 1.95);
        return mesh.Volume();
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
