using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Fillets on meshes against the definition (closing by a ball, Serra 1982), against those of the same bodies as outlines, and against closed forms.</summary>
public class ClosedTerrainTests
{
    private const double Tolerance = 0.01;
    private const double Degrees = 2;
    private const double Radius = 3;

    /// <summary>A fillet may take a third of the floor between two walls.</summary>
    private const double Share = 1 / 3.0;

    public static TheoryData<string> Names => [.. FilletBuild.Cases.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_surface_is_the_closing_by_the_ball(string name)
    {
        var prisms = FilletBuild.Cases[name];
        var terrain = Terrain(prisms);
        var fillet = Filled(terrain);
        var oracle = new ClosingOracle(TerrainBuild.Plateaus(prisms), Degrees, Radius, -1000);
        var random = new Random(3);
        var inside = 0;
        for (var i = 0; i < 20_000 && inside < 60; i++)
        {
            var p = new Vec2((random.NextDouble() * 64) - 2, (random.NextDouble() * 44) - 2);
            // Some places where nothing is filled, too.
            if (fillet.Raise(p) == 0 && i % 20 > 0) continue;
            inside++;
            var (height, gradient, _) = fillet.At(p);
            var expected = Math.Max(terrain.At(p).Height, oracle.Height(p));
            Assert.True(Math.Abs(height - expected) / Math.Sqrt(1 + gradient.LengthSquared) <= 2 * Tolerance, $"{name}: {height - expected} mm off the closing at {p}");
        }

        Assert.Equal(60, inside);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Heights_are_continuous_never_steeper_than_the_walls_and_never_below_the_sharp_terrain(string name)
    {
        var terrain = Terrain(FilletBuild.Cases[name]);
        var fillet = Filled(terrain);
        var slope = 1 / Math.Tan(Degrees * Math.PI / 180);
        var random = new Random(5);
        for (var line = 0; line < 40; line++)
        {
            var from = new Vec2((random.NextDouble() * 64) - 2, (random.NextDouble() * 44) - 2);
            var to = new Vec2((random.NextDouble() * 64) - 2, (random.NextDouble() * 44) - 2);
            var before = fillet.At(from).Height;
            const int steps = 4000;
            for (var i = 1; i <= steps; i++)
            {
                var p = from + (i / (double)steps * (to - from));
                var here = fillet.At(p).Height;
                Assert.True(here >= terrain.At(p).Height);
                Assert.True(Math.Abs(here - before) <= (slope * (to - from).Length / steps) + (slope * Tolerance / 10), $"{name}: a step of {here - before} mm at {p}");
                before = here;
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_body_is_valid_keeps_its_draft_and_gains_what_the_same_outlines_gain(string name)
    {
        var prisms = FilletBuild.Cases[name];
        var terrain = Terrain(prisms);
        var fillet = Filled(terrain);
        var mesh = Solid(fillet);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05, $"{name}: least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
        var sharp = TerrainBuild.Solid(terrain, Tolerance).Volume();
        // The rolling balls of floors share nothing with it but the terrain.
        var outline = FilletBuild.Terrain(prisms, Degrees, Radius, Tolerance).AddedVolume(0.1);
        Assert.InRange(fillet.AddedVolume(0.1) / outline, 0.99, 1.01);
        Assert.InRange((mesh.Volume() - sharp) / outline, 0.985, 1.015);
    }

    [Fact]
    public void Along_a_step_it_holds_the_area_between_two_lines_and_the_arc_that_touches_both()
    {
        // A wedge of air of the angle α gets r² (cot(α/2) − (π − α)/2) to the length (memory: two tangents less the sector between them). Ends are alike, so that the difference is that of lengths.
        var alpha = (90 + Degrees) * Math.PI / 180;
        var area = Radius * Radius * ((1 / Math.Tan(alpha / 2)) - ((Math.PI - alpha) / 2));
        var added = new[] { 40.0, 100 }.Select(length =>
        {
            var terrain = Terrain([new(PlanRegion.Rectangle(new(-20, 0), new(20, length)), 0, 8), new(PlanRegion.Rectangle(new(-20, 0), new(0, length)), 0, 24)]);
            var fillet = Filled(terrain);
            return (Reckoned: fillet.AddedVolume(0.1), Body: Solid(fillet).Volume() - TerrainBuild.Solid(terrain, Tolerance).Volume());
        }).ToArray();
        Assert.InRange((added[1].Reckoned - added[0].Reckoned) / 60 / area, 0.99, 1.01);
        Assert.InRange((added[1].Body - added[0].Body) / 60 / area, 0.99, 1.01);
    }

    [Fact]
    public void Round_a_boss_it_holds_what_the_rule_of_Pappus_says()
    {
        const double boss = 12, floor = 6, high = 22;
        var terrain = Terrain([new(PlanRegion.Rectangle(new(-30, -30), new(30, 30)), 0, floor), new(TerrainBuild.Circle(2 * boss, default, 96), 0, high)]);
        var fillet = Filled(terrain);
        var theta = Degrees * Math.PI / 180;
        // The wall stands at this radius on the floor; from there the arc takes T = r cot(α/2) of floor and wall, its centre over the end of that. A polygon of 96 sides has the area of a circle a
        // little smaller, and so have its offsets.
        var foot = (boss * Math.Sqrt(96 / (2 * Math.PI) * Math.Sin(2 * Math.PI / 96))) + ((high - floor) * Math.Tan(theta));
        var tangent = Radius * Math.Tan((Math.PI / 4) - (theta / 2));
        var (expected, parts) = (0.0, 20_000);
        var left = -tangent * Math.Sin(theta);
        for (var i = 0; i < parts; i++)
        {
            var x = left + ((i + 0.5) / parts * (tangent - left));
            var arc = Radius - Math.Sqrt((Radius * Radius) - ((tangent - x) * (tangent - x)));
            expected += 2 * Math.PI * (foot + x) * Math.Max(0, arc - Math.Max(0, -x / Math.Tan(theta))) * (tangent - left) / parts;
        }

        Assert.InRange(fillet.AddedVolume(0.1) / expected, 0.99, 1.01);
        Assert.InRange((Solid(fillet).Volume() - TerrainBuild.Solid(terrain, Tolerance).Volume()) / expected, 0.985, 1.015);
    }

    [Fact]
    public void What_is_hollow_with_a_larger_radius_already_is_left_alone()
    {
        // A dish with a bottom of radius 20 in facets that turn by 3° each, and no other inside corner.
        var (rings, around) = (14, 60);
        Vec3 At(int i, int j)
        {
            var (s, c) = Math.SinCos(3 * i * Math.PI / 180);
            var (y, x) = Math.SinCos(2 * Math.PI * j / around);
            return new(20 * s * x, 20 * s * y, 26 - (20 * c));
        }

        var facets = new List<Vec3>();
        for (var i = 0; i < rings; i++)
            for (var j = 0; j < around; j++)
                facets.AddRange([At(i, j), At(i + 1, j), At(i + 1, j + 1), At(i, j), At(i + 1, j + 1), At(i, j + 1)]);
        var mesh = new TriangleMesh([.. facets], [.. Enumerable.Range(0, facets.Count / 3).Select(i => new Facet(3 * i, (3 * i) + 1, (3 * i) + 2))]).Welded();
        var made = MeshFillets.Of(MeshTerrain.Of(mesh, 0, Degrees * Math.PI / 180, TerrainBuild.Lattice, Tolerance), [Radius], Share, Tolerance);
        Assert.True(made.Terrain is not { } filled || filled.AddedVolume(0.1) < 0.5, "the dish was filled");
        Assert.Empty(made.Held);
    }

    [Fact]
    public void A_groove_too_narrow_for_the_ball_keeps_its_floor_and_gets_a_smaller_one()
    {
        // 6.2 mm wide at its floor: the foot of R 3 takes 2.9 mm of it, that of R 2 takes 1.9, less than a third.
        Prism[] prisms = [new(PlanRegion.Rectangle(new(-30, -20), new(30, 20)), 0, 20), new(PlanRegion.Rectangle(new(-30.1, -3.5), new(30.1, 3.5)), 8, 20, true)];
        var terrain = Terrain(prisms);
        var made = MeshFillets.Of(terrain, [3, 2, 1.5, 1], Share, Tolerance);
        Assert.Equal([2.0], made.Radii_mm);
        Assert.Equal(8, made.Terrain!.At(new(0, 0)).Height, 1e-9);
        // Along either wall.
        Assert.Equal(2, made.Held.Length);
        Assert.All(made.Held, h => Assert.Equal(2, h.Radius_mm));
        Assert.All(made.Held, h => Assert.InRange(h.Area_mm2, 2 * 60, 3 * 60));
        // The wall's foot, 12 mm below its edge.
        var foot = 3.5 - (12 * Math.Tan(Degrees * Math.PI / 180));
        Assert.InRange(made.Terrain.Raise(new(0, foot)), 0.5, 2);
    }

    [Fact]
    public void Where_a_place_is_to_have_no_fillet_the_others_end_before_it()
    {
        var prisms = FilletBuild.Cases["block"];
        var terrain = Terrain(prisms);
        var fillet = MeshFillets.Of(terrain, [Radius], Share, Tolerance, p => p.X < 30 ? Radius : 0).Terrain!;
        var mesh = Solid(fillet);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
        var whole = Filled(terrain).AddedVolume(0.1);
        // Half of it by symmetry, but for what leans over at both ends.
        Assert.InRange(fillet.AddedVolume(0.1) / whole, 0.46, 0.51);
        Assert.Equal(0, fillet.Raise(new(35, 9.3)));
        Assert.True(fillet.Raise(new(25, 9.3)) > 0.3);
    }

    [Fact]
    public void Filled_once_more_nothing_is_added()
    {
        var prisms = FilletBuild.Cases["inner corner"];
        var first = Filled(Terrain(prisms));
        var again = MeshFillets.Of(MeshTerrain.Of(Solid(first), 0, Degrees * Math.PI / 180, TerrainBuild.Lattice, Tolerance), [Radius * 0.98], Share, Tolerance);
        Assert.InRange((again.Terrain?.AddedVolume(0.1) ?? 0) / first.AddedVolume(0.1), 0, 0.02);
    }

    [Fact]
    public void Random_blocks_are_closed_as_by_definition_and_give_valid_bodies()
    {
        var steep = 0;
        Gen.Select(Block.Array[2, 4], Gen.Double[1.5, 5]).Sample(
            (blocks, r) =>
            {
                var terrain = Terrain(blocks);
                var fillet = MeshFillets.Of(terrain, [r], Share, Tolerance).Terrain;
                if (fillet is null) return;
                var mesh = Solid(fillet);
                MeshAssert.Valid(mesh);
                if (TerrainBuild.LeastDraftDegrees(mesh) < Degrees - 0.05) Interlocked.Increment(ref steep);
                var oracle = new ClosingOracle(TerrainBuild.Plateaus(blocks), Degrees, r, -1000);
                var random = new Random(1);
                for (var i = 0; i < 8; i++)
                {
                    var p = new Vec2((random.NextDouble() * 80) - 40, (random.NextDouble() * 80) - 40);
                    var (height, gradient, _) = fillet.At(p);
                    if (fillet.Raise(p) == 0) continue;
                    // Where a radius is held back less is filled; never more.
                    Assert.True((height - Math.Max(terrain.At(p).Height, oracle.Height(p))) / Math.Sqrt(1 + gradient.LengthSquared) <= 2 * Tolerance, $"too much at {p}");
                }
            },
            iter: 25);
        // A narrow facet is left now and then where fillets end, see DEVELOPERS.md; the finding no-draft tells of it.
        Assert.True(steep <= 2, $"{steep} have a facet with less draft");
    }

    private static readonly Gen<Prism> Block = Gen.Select(Gen.Double[-20, 20], Gen.Double[-20, 20], Gen.Double[6, 40], Gen.Double[6, 40], Gen.Double[0, 3.2], Gen.Double[3, 24]).Select(
        (x, y, a, b, turn, high) => new Prism(PlanRegion.Polygon([.. PlanPath.Polygon(new Vec2(-a, -b), new Vec2(a, -b), new Vec2(a, b), new Vec2(-a, b)).Transformed(0.5, turn, new(x, y)).Flatten(1)]), 0, high));

    private static ClosedTerrain Filled(DraftedTerrain terrain) => MeshFillets.Of(terrain, [Radius], Share, Tolerance).Terrain!;

    private static TriangleMesh Solid(ClosedTerrain terrain) => TerrainSolid.Build(terrain.ForMeshing(), null, [], [], TerrainBuild.Lattice, new(Tolerance));

    private static DraftedTerrain Terrain(IReadOnlyList<Prism> prisms) => MeshTerrain.Of(Mesh(prisms), 0, Degrees * Math.PI / 180, TerrainBuild.Lattice, Tolerance);

    /// <summary>What of prisms is seen from above, walls left out: the mesh need not be closed.</summary>
    private static TriangleMesh Mesh(IReadOnlyList<Prism> prisms)
    {
        Vec3[] corners = [.. TerrainBuild.Plateaus(prisms).Where(p => p.Height > 0).SelectMany(p => RegionTriangles.Of([p.Region], TerrainBuild.Lattice)
            .SelectMany(t => new[] { t.A, t.B, t.C }.Select(v => new Vec3(v.X, v.Y, p.Height))))];
        return new TriangleMesh([.. corners], [.. Enumerable.Range(0, corners.Length / 3).Select(i => new Facet(3 * i, (3 * i) + 1, (3 * i) + 2))]).Welded();
    }
}
