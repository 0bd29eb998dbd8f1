using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Rounded edges of meshes against the definition (opening by a ball, Serra 1982), sampled, and against closed forms.</summary>
public class MeshRoundsTests
{
    private const double Tolerance = 0.02;
    private const double Degrees = 2;
    private const double Radius = 3;

    /// <summary>An edge may take a third of what is level between two walls.</summary>
    private const double Share = 1 / 3.0;

    private static readonly double Theta = Degrees * Math.PI / 180;

    [Fact]
    public void Along_a_block_every_edge_loses_what_is_between_two_lines_and_the_arc_that_touches_both()
    {
        // A wedge of metal of the angle β loses r² (cot(β/2) − (π − β)/2) to the length (memory: two tangents less the sector between them). Ends are alike, so that the difference is that of lengths.
        var beta = (90 + Degrees) * Math.PI / 180;
        var area = Radius * Radius * ((1 / Math.Tan(beta / 2)) - ((Math.PI - beta) / 2));
        var lost = new[] { 40.0, 100 }.Select(length =>
        {
            var terrain = Drafted(Shapes.Box(new(-15, 0, 0), new(15, length, 20)));
            return TerrainBuild.Solid(terrain, Tolerance).Volume() - TerrainBuild.Solid(Rounded(terrain), Tolerance).Volume();
        }).ToArray();
        Assert.InRange((lost[1] - lost[0]) / 60 / (2 * area), 0.99, 1.01);
    }

    [Fact]
    public void Round_a_boss_its_edge_loses_what_the_rule_of_Pappus_says()
    {
        const double boss = 14, high = 18;
        const int sides = 192;
        var foot = boss + (high * Math.Tan(Theta));
        var terrain = Drafted(TestBodies.Turned(sides, (foot, 0), (boss, high)));
        // The arc touches the top T = r tan((π − β)/2) inside the edge, its centre under that. A polygon has the area of a circle a little smaller, and so have its offsets.
        var edge = boss * Math.Sqrt(sides / (2 * Math.PI) * Math.Sin(2 * Math.PI / sides));
        var tangent = Radius * Math.Tan((Math.PI / 4) - (Theta / 2));
        var (expected, parts) = (0.0, 20_000);
        var reach = tangent * (1 + Math.Sin(Theta));
        for (var i = 0; i < parts; i++)
        {
            var x = -tangent + ((i + 0.5) / parts * reach);
            var arc = Radius - Math.Sqrt((Radius * Radius) - ((x + tangent) * (x + tangent)));
            expected += 2 * Math.PI * (edge + x) * Math.Max(0, arc - Math.Max(0, x / Math.Tan(Theta))) * reach / parts;
        }

        var lost = TerrainBuild.Solid(terrain, Tolerance).Volume() - TerrainBuild.Solid(Rounded(terrain), Tolerance).Volume();
        Assert.InRange(lost / expected, 0.99, 1.01);
    }

    [Fact]
    public void Corners_between_walls_are_rounded_down_to_the_ground_and_walls_keep_their_foot()
    {
        const double a = 40, b = 30, h = 20;
        var terrain = Drafted(Wedge(a, b, h));
        var rounded = Rounded(terrain);
        // Four flat sides at the foot; at each corner between planes that are square in plan r² (1 − π/4) is lost, the section of the ball's canal being a circle but for 1/cos² θ.
        var run = h * Math.Tan(Theta);
        var whole = (a + (2 * run)) * (b + (2 * run));
        Assert.InRange((whole - rounded.Footprint.Area) / (Radius * Radius * (4 - Math.PI)), 0.97, 1.03);
        Assert.Equal(a + (2 * run), rounded.Footprint.Geometry.EnvelopeInternal.Width, Tolerance / 2);
        Assert.Equal(b + (2 * run), rounded.Footprint.Geometry.EnvelopeInternal.Height, Tolerance / 2);
        Assert.Equal(h, rounded.At(default).Height, 1e-6);
    }

    [Theory]
    [InlineData("wedge", 0)]
    [InlineData("tilted torus", -3)]
    [InlineData("superellipsoid", 0)]
    [InlineData("animal", -4)]
    [InlineData("tilted spool", -10)]
    public void The_surface_is_the_opening_by_the_ball_sampled_and_its_body_is_sound(string name, double joint)
    {
        const double radius = 1.5;
        var terrain = MeshTerrain.Of(FreeForms.Compared[name](), joint, Theta, FreeForms.Lattice, Tolerance);
        var rounded = MeshRounds.Of(terrain, [radius], Share, Tolerance, _ => radius).Terrain;
        if (rounded is null) return;
        AssertSound(TerrainBuild.Solid(rounded, Tolerance));
        AssertOpening(terrain, rounded, radius, 12, 7, isExact: false);
    }

    [Fact]
    public void Random_heaps_of_blocks_are_opened_as_by_definition_and_give_sound_bodies()
    {
        var told = 0;
        Gen.Select(Block.Array[1, 4], Gen.Double[1, 4], Gen.Int[1, 1000]).Sample(
            (blocks, r, seed) =>
            {
                var terrain = Drafted(blocks.Aggregate((a, b) => a.Plus(b)));
                var made = MeshRounds.Of(terrain, [r], Share, Tolerance);
                if (made.Terrain is not { } rounded) return;
                var mesh = TerrainBuild.Solid(rounded, Tolerance);
                MeshAssert.Valid(mesh);
                Assert.True(mesh.Volume() < TerrainBuild.Solid(terrain, Tolerance).Volume());
                AssertOpening(terrain, rounded, r, 5, seed, isExact: made.Held.IsEmpty);
                if (TerrainBuild.LeastDraftDegrees(mesh) < Degrees - 0.05) Interlocked.Increment(ref told);
            },
            iter: 12);
        Assert.InRange(told, 0, 1);
    }

    [Fact]
    public void Rounded_once_more_nothing_is_lost()
    {
        var terrain = Drafted(Wedge(40, 30, 20));
        var once = TerrainBuild.Solid(Rounded(terrain), Tolerance);
        var lost = TerrainBuild.Solid(terrain, Tolerance).Volume() - once.Volume();
        var again = MeshRounds.Of(Drafted(once), [Radius * 0.98], Share, Tolerance).Terrain;
        Assert.InRange(again is null ? 0 : (once.Volume() - TerrainBuild.Solid(again, Tolerance).Volume()) / lost, -0.02, 0.02);
    }

    [Fact]
    public void A_rib_too_narrow_for_the_ball_keeps_its_top_and_gets_a_smaller_one()
    {
        // 6.2 mm wide at its top: R 3 takes 2.9 mm of it on either side, R 2 takes 1.9, less than a third.
        var made = MeshRounds.Of(Drafted(Shapes.Box(new(-30, -3.1, 0), new(30, 3.1, 14))), [3, 2, 1.5, 1], Share, Tolerance);
        Assert.Equal([2.0], made.Radii_mm);
        Assert.Equal(14, made.Terrain!.At(default).Height, 1e-6);
        Assert.All(made.Held, h => Assert.Equal(2, h.Radius_mm));
        Assert.All(made.Held, h => Assert.Equal(14, h.Place.Z, 0.01));
        Assert.NotEmpty(made.Held);
    }

    [Fact]
    public void A_plate_too_thin_for_the_ball_gets_a_smaller_one()
    {
        // Of a wall of 1.8 mm the arc of R 2 takes 1.93 mm, that of R 1.5 takes 1.45.
        var made = MeshRounds.Of(Drafted(Shapes.Box(new(-30, -20, 0), new(30, 20, 1.8))), [3, 2, 1.5, 1], Share, Tolerance);
        Assert.Equal([1.5], made.Radii_mm);
        Assert.All(made.Held, h => Assert.Equal(1.5, h.Radius_mm));
        Assert.NotEmpty(made.Held);
    }

    [Fact]
    public void What_meets_the_ground_without_a_wall_keeps_its_border()
    {
        const double radius = 20, high = 10;
        var terrain = Drafted(TestBodies.Turned(96, (radius, 0), (8, high - 4), (8, high)));
        var rounded = MeshRounds.Of(terrain, [2, 1], Share, Tolerance).Terrain!;
        Assert.Equal(terrain.Footprint.Area, rounded.Footprint.Area, 0.05);
        foreach (var at in new[] { 19.8, 19, 17, 12, 2 }) Assert.Equal(terrain.At(new(at, 0)).Height, rounded.At(new(at, 0)).Height, Tolerance);
        // The edge of what stands on it is round.
        Assert.True(rounded.At(new(7.9, 0)).Height < terrain.At(new(7.9, 0)).Height - 0.5);
    }

    [Fact]
    public void Where_a_place_is_to_stay_sharp_the_others_end_before_it()
    {
        var terrain = Drafted(Wedge(60, 40, 20));
        var rounded = MeshRounds.Of(terrain, [Radius], Share, Tolerance, p => p.X < 0 ? Radius : 0).Terrain!;
        AssertSound(TerrainBuild.Solid(rounded, Tolerance));
        Assert.Equal(terrain.At(new(15, 19.9)).Height, rounded.At(new(15, 19.9)).Height, 1e-3);
        Assert.True(rounded.At(new(-15, 19.9)).Height < terrain.At(new(-15, 19.9)).Height - 0.5);
    }

    private static readonly Gen<TriangleMesh> Block =
        Gen.Select(Gen.Double[-15, 15], Gen.Double[-15, 15], Gen.Double[10, 40], Gen.Double[10, 40], Gen.Double[0, 3.2], Gen.Double[6, 24]).Select((x, y, a, b, turn, high) =>
            Shapes.Box(new(-a / 2, -b / 2, 0), new(a / 2, b / 2, high)).Mapped(v => new((v.X * Math.Cos(turn)) - (v.Y * Math.Sin(turn)) + x, (v.X * Math.Sin(turn)) + (v.Y * Math.Cos(turn)) + y, v.Z)));

    private static DraftedTerrain Drafted(TriangleMesh mesh) => MeshTerrain.Of(mesh, 0, Theta, TerrainBuild.Lattice, Tolerance);

    private static DraftedTerrain Rounded(DraftedTerrain terrain) => MeshRounds.Of(terrain, [Radius], Share, Tolerance).Terrain!;

    /// <summary>A block whose four walls have their draft already, so that its corners are edges and no cones.</summary>
    private static TriangleMesh Wedge(double a, double b, double h)
    {
        var run = h * Math.Tan(Theta);
        return Shapes.Box(new(-1, -1, 0), new(1, 1, h)).Mapped(v => new(v.X * ((a / 2) + (v.Z == 0 ? run : 0)), v.Y * ((b / 2) + (v.Z == 0 ? run : 0)), v.Z));
    }

    private static void AssertSound(TriangleMesh mesh)
    {
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
    }

    /// <summary>
    /// Holds a surface against the highest that balls inside the body reach, the body going on below its foot. Samples of the body are so far apart that its walls are known to
    /// that in plan; what a radius is held back takes less away, never more.
    /// </summary>
    private static void AssertOpening(DraftedTerrain terrain, DraftedTerrain rounded, double radius, int places, int seed, bool isExact)
    {
        var spacing = radius / 40;
        const int reach = 40;
        var ball = (from i in Enumerable.Range(-reach, (2 * reach) + 1) from j in Enumerable.Range(-reach, (2 * reach) + 1) where (i * i) + (j * j) <= reach * reach select (i, j, Height: spacing * Math.Sqrt((reach * reach) - (i * i) - (j * j)))).ToArray();
        var box = terrain.Footprint.Geometry.EnvelopeInternal;
        var random = new Random(seed);
        var left = places;
        for (var tries = 0; tries < 20_000 && left > 0; tries++)
        {
            var p = new Vec2(box.MinX + (random.NextDouble() * box.Width), box.MinY + (random.NextDouble() * box.Height));
            var (sharp, here) = (terrain.At(p).Height, rounded.At(p));
            if (sharp <= terrain.GroundHeight || (here.Height > sharp - (3 * Tolerance) && tries % 5 > 0)) continue;
            left--;
            var heights = new double[(4 * reach) + 1, (4 * reach) + 1];
            for (var i = -2 * reach; i <= 2 * reach; i++)
                for (var j = -2 * reach; j <= 2 * reach; j++)
                    heights[i + (2 * reach), j + (2 * reach)] = terrain.WithoutGround(p + (spacing * new Vec2(i, j)));
            var highest = double.NegativeInfinity;
            foreach (var (i, j, up) in ball)
            {
                var centre = double.PositiveInfinity;
                foreach (var (k, l, down) in ball) centre = Math.Min(centre, heights[i + k + (2 * reach), j + l + (2 * reach)] - down);
                highest = Math.Max(highest, centre + up);
            }

            var off = (here.Height - Math.Max(highest, terrain.GroundHeight)) / Math.Sqrt(1 + here.Gradient.LengthSquared);
            Assert.True(off >= -spacing - (2 * Tolerance) && (!isExact || off <= spacing + (2 * Tolerance)), $"{off} mm off the opening at {p}, sharp {sharp}, rounded {here.Height}");
        }
    }
}
