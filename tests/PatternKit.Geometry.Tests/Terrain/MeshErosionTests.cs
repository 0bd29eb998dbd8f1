using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Meshes whose walls get their draft by taking metal off, against closed forms and against the definition of the erosion, sampled.</summary>
public class MeshErosionTests
{
    private const double Degree = Math.PI / 180;

    [Theory]
    [InlineData(0.25)]
    [InlineData(2)]
    [InlineData(5)]
    public void A_block_becomes_a_frustum_on_its_own_foot(double degrees)
    {
        const double a = 40, b = 30, h = 20;
        var t = Math.Tan(degrees * Degree);
        // Sections (a − 2 t z)(b − 2 t z), integrated over the height.
        AssertRelative((a * b * h) - ((a + b) * t * h * h) + (4.0 / 3 * t * t * h * h * h), Solid(Shapes.Box(new(0, 0, 0), new(a, b, h)), degrees, 1).Volume(), 1e-4);
    }

    [Fact]
    public void Half_the_run_is_taken_off_a_block_at_the_top_and_half_is_added_at_the_foot()
    {
        const double a = 40, b = 30, h = 20;
        var t = Math.Tan(2 * Degree);
        var (top, around) = ((a - (t * h)) * (b - (t * h)), 2 * (a + b - (2 * t * h)));
        // Parallel bodies of the top (Steiner; memory), integrated over the height.
        AssertRelative((top * h) + (around * h * h * t / 2) + (Math.PI / 3 * h * h * h * t * t), Solid(Shapes.Box(new(0, 0, 0), new(a, b, h)), 2, 0.5).Volume(), 1e-4);
    }

    [Fact]
    public void A_pocket_keeps_its_floor_and_widens_towards_its_mouth_with_round_corners()
    {
        const double a = 60, b = 50, h = 20, c = 20, e = 12, deep = 15;
        var t = Math.Tan(2 * Degree);
        var outside = (a * b * h) - ((a + b) * t * h * h) + (4.0 / 3 * t * t * h * h * h);
        var pocket = (c * e * deep) + ((c + e) * t * deep * deep) + (Math.PI / 3 * t * t * deep * deep * deep);
        AssertRelative(outside - pocket, Solid(Pocketed(a, b, h, c, e, deep), 2, 1).Volume(), 1e-4);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(0.5)]
    public void What_has_the_draft_stays_as_it_is(double fraction)
    {
        var cone = TestBodies.Turned(96, (15, 0), (10, 20));
        AssertRelative(cone.Volume(), Solid(cone, 2, fraction).Volume(), 5e-5);
    }

    [Fact]
    public void Under_a_ball_on_a_stem_the_cone_rises_from_the_edge_of_its_shadow()
    {
        const double r = 14, stem = 25, degrees = 5;
        var k = 1 / Math.Tan(degrees * Degree);
        var ball = FreeForms.BallOnStem(240, 160);
        // The less of the cap and the cone on the foot of the shadow's edge, integrated round the axis.
        const int steps = 200_000;
        var volume = 0.0;
        for (var i = 0; i < steps; i++)
        {
            var rho = r * (i + 0.5) / steps;
            volume += 2 * Math.PI * rho * (r / steps) * Math.Min(stem + Math.Sqrt((r * r) - (rho * rho)), k * (r - rho));
        }

        // Chords of the mesh hold so much less than circles.
        var inscribed = 240 / (2 * Math.PI) * Math.Sin(2 * Math.PI / 240);
        AssertRelative(volume * inscribed, Solid(ball, degrees, 1, joint: -stem).Volume(), 4e-4);
    }

    [Theory]
    [InlineData("ball on a stem", -8)]
    [InlineData("wedge", 0)]
    [InlineData("tilted torus", -3)]
    [InlineData("superellipsoid", 0)]
    [InlineData("animal", -4)]
    [InlineData("tilted spool", -10)]
    public void The_skin_is_the_erosion_by_the_cone_sampled(string name, double joint)
    {
        const double degrees = 20, spacing = 0.03;
        var k = 1 / Math.Tan(degrees * Degree);
        var mesh = FreeForms.Compared[name]();
        var skin = MeshErosion.Of(mesh, joint, degrees * Degree, 1, FreeForms.Lattice, FreeForms.Tolerance);
        foreach (var f in skin.Facets)
        {
            var n = skin.AreaNormal(f);
            Assert.True(n.Z > 0 && n.Plan.Length <= n.Z / Math.Tan((degrees - 0.05) * Degree), $"a facet of {Math.Atan2(n.Z, n.Plan.Length) / Degree}°");
        }

        var heights = Heights(mesh, joint, spacing);
        var reach = (mesh.Bounds().High.Z - joint) / k;
        var told = 0;
        var middles = skin.Facets.Select(f => 1 / 3.0 * (skin.Vertices[f.A] + skin.Vertices[f.B] + skin.Vertices[f.C]));
        foreach (var v in skin.Vertices.Concat(middles).Where((_, i) => i % 11 == 0 || skin.Facets.Length < 100))
        {
            var expected = double.PositiveInfinity;
            for (var x = Math.Floor((v.X - reach) / spacing); x * spacing <= v.X + reach; x++)
                for (var y = Math.Floor((v.Y - reach) / spacing); y * spacing <= v.Y + reach; y++)
                    expected = Math.Min(expected, heights((int)x, (int)y) + (k * Vec2.Distance(v.Plan, new(x * spacing, y * spacing))));
            // The least over samples is no less than the least over all, and no more than the farthest of four samples makes it.
            // Planes in place of cones may stand in by the tolerance.
            Assert.InRange(v.Z, expected - (k * (spacing + FreeForms.Tolerance)) - FreeForms.Tolerance, expected + FreeForms.Tolerance + 0.001);
            told++;
        }

        Assert.InRange(told, 20, int.MaxValue);
    }

    [Fact]
    public void Taking_off_twice_takes_off_once()
    {
        var mesh = FreeForms.Compared["animal"]();
        var once = MeshErosion.Of(mesh, -4, 3 * Degree, 1, FreeForms.Lattice, FreeForms.Tolerance);
        var first = TerrainSolid.Build(MeshTerrain.Of(once, -4, 3 * Degree, FreeForms.Lattice, FreeForms.Tolerance), null, [], [], FreeForms.Lattice, new(FreeForms.Tolerance));
        MeshAssert.Valid(first);
        AssertRelative(first.Volume(), Solid(first, 3, 1, joint: -4).Volume(), 2e-4);
    }

    [Fact]
    public void Heaps_of_overlapping_shells_make_sound_bodies_that_open_no_shaft_and_stand_out_nowhere()
    {
        var lacking = 0;
        Gen.Select(MeshTerrainTests.Shell.Array[1, 5], Gen.Int[0, 1].Select(i => i == 0 ? 2.0 : 5), Gen.Int[0, 1].Select(i => i == 0 ? 0.5 : 1), Gen.Int).Sample(
            (shells, degrees, fraction, seed) =>
            {
                var mesh = shells.Aggregate((a, b) => a.Plus(b));
                if (mesh.Vertices.Max(v => v.Z) <= 0.01) return;
                var angle = degrees * Degree;
                var solid = TerrainSolid.Build(MeshTerrain.Of(mesh, 0, angle, FreeForms.Lattice, FreeForms.Tolerance, fraction), null, [], [], FreeForms.Lattice, new(FreeForms.Tolerance));
                if (fraction == 1 && solid.Facets.IsEmpty) return;
                MeshAssert.Valid(solid);
                if (TerrainBuild.LeastDraftDegrees(solid) < degrees - 0.05) Interlocked.Increment(ref lacking);
                var k = 1 / (fraction * Math.Tan(angle));
                var skin = MeshErosion.Of(mesh, 0, angle, fraction, FreeForms.Lattice, FreeForms.Tolerance);
                const double spacing = 0.1;
                var highest = Heights(mesh, 0, spacing);
                var reach = mesh.Bounds().High.Z / k;
                foreach (var v in skin.Vertices.Where((_, i) => (i + seed) % 23 == 0))
                {
                    var expected = double.PositiveInfinity;
                    for (var x = Math.Floor((v.X - reach) / spacing); x * spacing <= v.X + reach + spacing; x++)
                        for (var y = Math.Floor((v.Y - reach) / spacing); y * spacing <= v.Y + reach + spacing; y++)
                            expected = Math.Min(expected, highest((int)x, (int)y) + (k * Vec2.Distance(v.Plan, new(x * spacing, y * spacing))));
                    var slack = FreeForms.Tolerance * Math.Sqrt(1 + (k * k));
                    Assert.InRange(v.Z, expected - (Math.Sqrt(2) * k * spacing) - (2 * slack), expected + slack);
                }
            },
            iter: 30);
        // As with metal added: now and then a narrow facet keeps less draft where walls of many directions crowd.
        Assert.InRange(lacking, 0, 2);
    }

    private static TriangleMesh Solid(TriangleMesh mesh, double degrees, double fraction, double joint = 0)
    {
        var solid = TerrainSolid.Build(MeshTerrain.Of(mesh, joint, degrees * Degree, FreeForms.Lattice, FreeForms.Tolerance, fraction), null, [], [], FreeForms.Lattice, new(FreeForms.Tolerance));
        MeshAssert.Valid(solid);
        Assert.True(TerrainBuild.LeastDraftDegrees(solid) >= degrees - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(solid)}");
        return solid;
    }

    /// <summary>A block with a pocket from above, in the middle of it: four walls round it and a floor.</summary>
    private static TriangleMesh Pocketed(double a, double b, double h, double c, double e, double deep)
    {
        var rings = new[] { (a, b, 0.0), (a, b, h), (c, e, h), (c, e, h - deep) };
        Vec3[] corners = [.. rings.SelectMany(r => new[] { (-1, -1), (1, -1), (1, 1), (-1, 1) }.Select(s => new Vec3(s.Item1 * r.Item1 / 2, s.Item2 * r.Item2 / 2, r.Item3)))];
        List<Facet> facets = [new(0, 2, 1), new(0, 3, 2), new(12, 13, 14), new(12, 14, 15)];
        for (var ring = 0; ring < 3; ring++)
            for (var i = 0; i < 4; i++)
            {
                var (p, q) = ((4 * ring) + i, (4 * ring) + ((i + 1) % 4));
                facets.AddRange([new(p, q, q + 4), new(p, q + 4, p + 4)]);
            }

        return new([.. corners], [.. facets]);
    }

    /// <summary>The highest of the mesh over the points of a grid, or the joint.</summary>
    private static Func<int, int, double> Heights(TriangleMesh mesh, double joint, double spacing)
    {
        var highest = new Dictionary<(int, int), double>();
        foreach (var f in mesh.Facets)
        {
            var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            var twice = Vec2.Cross(b.Plan - a.Plan, c.Plan - a.Plan);
            if (twice == 0) continue;
            for (var x = (int)Math.Ceiling(Math.Min(a.X, Math.Min(b.X, c.X)) / spacing); x * spacing <= Math.Max(a.X, Math.Max(b.X, c.X)); x++)
                for (var y = (int)Math.Ceiling(Math.Min(a.Y, Math.Min(b.Y, c.Y)) / spacing); y * spacing <= Math.Max(a.Y, Math.Max(b.Y, c.Y)); y++)
                {
                    var p = new Vec2(x * spacing, y * spacing);
                    var (u, v) = (Vec2.Cross(p - a.Plan, c.Plan - a.Plan) / twice, Vec2.Cross(b.Plan - a.Plan, p - a.Plan) / twice);
                    if (u < 0 || v < 0 || u + v > 1) continue;
                    var z = a.Z + (u * (b.Z - a.Z)) + (v * (c.Z - a.Z));
                    if (!highest.TryGetValue((x, y), out var known) || z > known) highest[(x, y)] = z;
                }
        }

        return (x, y) => highest.TryGetValue((x, y), out var z) ? Math.Max(z, joint) : joint;
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
