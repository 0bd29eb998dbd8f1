using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Silhouette;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Mesh;
using PatternKit.Geometry.Tests.Silhouette;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Both halves of a body on a surface through its silhouette, against closed forms, columns of the exact envelope and each other.</summary>
public class TerrainOverGroundTests
{
    private const double Tolerance = FreeForms.Tolerance;

    private static readonly Dictionary<string, Func<TriangleMesh>> Bodies = new()
    {
        ["leaning bar"] = Lines.Leaning,
        ["arc"] = Lines.Arc,
        ["tilted torus"] = () => FreeForms.TiltedTorus(48, 24),
        ["stepped"] = () => TestBodies.Bar(20, (-30, 0), (0, 0), (10, 8), (30, 8), (30, 14), (10, 14), (0, 6), (-30, 6)),
    };

    public static TheoryData<string, int> All()
    {
        var data = new TheoryData<string, int>();
        foreach (var name in Bodies.Keys)
            foreach (var degrees in new[] { 2, 5 }) data.Add(name, degrees);
        return data;
    }

    /// <summary>The halves of a body: the upper one, and the lower one with z negated.</summary>
    internal sealed record Halved(FacetedGround Ground, TerrainOverGround Upper, TerrainOverGround Lower, TriangleMesh UpperBody, TriangleMesh LowerBody)
    {
        public static Halved Of(TriangleMesh mesh, double degrees)
        {
            var ground = Lines.Ground(Lines.Corridor(mesh, degrees));
            var (upper, lower) = (Over(mesh, degrees, ground), Over(mesh.Overturned(), degrees, ground.Negated()));
            return new(ground, upper, lower, Solid(upper), Solid(lower));
        }

        public static TerrainOverGround Over(TriangleMesh mesh, double degrees, FacetedGround ground) =>
            new(FreeForms.Terrain(mesh, degrees, FreeForms.Lattice.Snap(ground.Range.Low - 1)), ground);

        public static TriangleMesh Solid(TerrainOverGround terrain) => TerrainSolid.Build(terrain, null, [], [], FreeForms.Lattice, new(Tolerance));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Both_halves_are_sound_drafted_and_hold_what_the_columns_of_the_envelope_hold(string name, int degrees)
    {
        MeshAssert.Valid(Bodies[name]());
        var halves = Halved.Of(Bodies[name](), degrees);
        foreach (var (body, terrain) in new[] { (halves.UpperBody, halves.Upper), (halves.LowerBody, halves.Lower) })
        {
            MeshAssert.Valid(body);
            var least = LeastDraftDegrees(body);
            Assert.True(least >= degrees - 0.05, $"least draft {least}");
            AssertRelative(SampledVolume.Of(terrain), body.Volume(), 4e-4);
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Both_joint_faces_are_the_same_triangles_and_nothing_of_the_body_lies_outside_the_halves(string name, int degrees)
    {
        var mesh = Bodies[name]();
        var halves = Halved.Of(mesh, degrees);
        var (upper, lower) = (Corners(halves.UpperBody), Corners(halves.LowerBody));
        // Corners of the ground that either footprint has well inside are corners of both, at the same height.
        var both = halves.Upper.Footprint.Offset(-0.01, 0.001).Intersection(halves.Lower.Footprint.Offset(-0.01, 0.001));
        var shared = halves.Ground.Facets.SelectMany(f => new[] { f.A, f.B, f.C }).Distinct().Where(v => both.Contains(v.Plan)).ToArray();
        Assert.True(shared.Length >= 5, $"{shared.Length} corners");
        Assert.All(shared, v => Assert.True(upper.Contains(v) && lower.Contains(v with { Z = -v.Z }), $"{v}"));

        // Every facet of a joint face lies in one triangle of the ground: its corners do, by rounding, and its middle.
        foreach (var (body, ground) in new[] { (halves.UpperBody, halves.Upper.Ground), (halves.LowerBody, halves.Lower.Ground) })
            foreach (var f in body.Facets.Where(f => body.AreaNormal(f).Z < 0))
            {
                var (a, b, c) = (body.Vertices[f.A], body.Vertices[f.B], body.Vertices[f.C]);
                foreach (var p in new[] { a, b, c, 1 / 3.0 * (a + b + c) }) Assert.Equal(ground.At(p.Plan).Height, p.Z, 1e-3);
            }

        // So on every line along the draw the two halves meet, and hold the body between them.
        var inner = halves.Upper.Footprint.Intersection(halves.Lower.Footprint).Offset(-0.05, 0.01);
        var box = inner.Geometry.EnvelopeInternal;
        var count = 0;
        for (var x = box.MinX + 0.77; x < box.MaxX; x += box.Width / 23)
            for (var y = box.MinY + 0.31; y < box.MaxY; y += box.Height / 17)
            {
                var (low, high) = Column(mesh, new(x, y));
                if (!inner.Contains(new(x, y)) || low > high) continue;
                var (up, down) = (Column(halves.UpperBody, new(x, y)), Column(halves.LowerBody, new(x, y)));
                // Lines that both share are bent where either has a corner on them, by up to the distance within which corners become one: 0.001 mm in plan.
                Assert.Equal(up.Low, -down.Low, 5e-4);
                Assert.True(up.High >= high - (2 * Tolerance) && -down.High <= low + (2 * Tolerance), $"at ({x}, {y}): {low} to {high} in {-down.High} to {up.High}");
                count++;
            }

        Assert.True(count > 50, $"{count} lines");
    }

    [Fact]
    public void A_ground_that_is_level_gives_the_half_that_a_level_joint_gives()
    {
        var mesh = FreeForms.Superellipsoid(48, 24);
        var ground = FacetedGround.Of(_ => 0, new(-60, -60), new(60, 60), 0, [], _ => false, 1, FreeForms.Lattice, new(0.05));
        var over = Halved.Solid(Halved.Over(mesh, 2, ground));
        AssertRelative(FreeForms.Solid(mesh, 2).Volume(), over.Volume(), 1e-4);
        Assert.Equal(FreeForms.Solid(mesh, 2).Bounds().Size.X, over.Bounds().Size.X, 0.002);
    }

    [Fact]
    public void On_the_plane_of_a_leaning_bar_each_half_has_the_section_of_half_a_drafted_cylinder()
    {
        // Cut upright across the bar, away from its ends, the section of the upper half is a half circle between two tangents: along the bar nothing changes, and the cone seen
        // along a line that leans by a is steeper, its slope being that of the plane through the line that touches the cone: √(k² − tan² a).
        const double r = 8;
        var ground = FacetedGround.Of(p => Math.Abs(p.X) > 59 ? 0 : Math.Tan(10 * Math.PI / 180) * p.X * (1 - Math.Max(0, (Math.Abs(p.X) - 50) / 9)), new(-60, -60), new(60, 60), 0, [], _ => false, 4, FreeForms.Lattice, new(0.001));
        var mesh = Lines.Bent(r, 80, 360, 1, x => x * Math.Tan(10 * Math.PI / 180));
        var terrain = Halved.Over(mesh, 2, ground);
        var k = Math.Sqrt(Math.Pow(1 / Math.Tan(2 * Math.PI / 180), 2) - Math.Pow(Math.Tan(10 * Math.PI / 180), 2));
        var angle = Math.Atan(1 / k);
        for (var y = 0.0; y < r / Math.Cos(angle); y += 0.37)
        {
            var expected = y <= r * Math.Cos(angle) ? Math.Sqrt((r * r) - (y * y)) : k * ((r / Math.Cos(angle)) - y);
            Assert.Equal(expected, terrain.At(new(7, y)).Height - (7 * Math.Tan(10 * Math.PI / 180)), 0.02 * Math.Max(1, y > 7.9 ? k * 0.01 / 0.02 : 1));
        }
    }

    /// <summary>How a smooth body leans and is turned, how flat and bent it is, and its draft in degrees.</summary>
    private static readonly Gen<(double Lean, double Turn, double Flat, double Bend, int Degrees)> Smooth =
        Gen.Select(Gen.Double[-0.5, 0.5], Gen.Double[0, 3], Gen.Double[0.4, 1], Gen.Double[-0.012, 0.012], Gen.Int[2, 4]);

    [Fact]
    public void Smooth_bodies_at_random_come_out_sound_and_drafted()
    {
        int made = 0, steep = 0;
        Smooth.Sample((lean, turn, flat, bend, degrees) =>
        {
            foreach (var least in Drafts(lean, turn, flat, bend, degrees))
            {
                Interlocked.Increment(ref made);
                if (least < degrees - 0.05) Interlocked.Increment(ref steep);
            }
        }, iter: 12);
        Assert.True(made >= 10, $"{made} halves");
        Assert.True(steep <= made / 10, $"{steep} of {made} with a narrow facet of less draft");
    }

    /// <summary>Bodies that once crossed themselves: a crease ended beside the rim, closer than points of the ground are moved there.</summary>
    [Theory]
    [InlineData("7EdCVqokVMw1")]
    [InlineData("2hLJ70mLXBs4")]
    [InlineData("2hLJ70mLXBq2")]
    public void A_smooth_body_that_once_failed_is_sound(string seed) => Smooth.Sample(
        (lean, turn, flat, bend, degrees) => Assert.Equal(2, Drafts(lean, turn, flat, bend, degrees).Count), seed: seed);

    /// <summary>Least draft of both halves, degrees, once they are seen to be sound; none where the joint would be too steep.</summary>
    private static List<double> Drafts(double lean, double turn, double flat, double bend, int degrees)
    {
        var mesh = Shapes.Sphere(1, 48, 24).Mapped(v => FreeForms.Turned(new(26 * v.X, 12 * v.Y, 12 * flat * v.Z), 0, lean, turn) is var p ? p with { Z = p.Z + (bend * p.X * p.X) } : p);
        if (HeightExtension.LeastSlope(Lines.Corridor(mesh, degrees).Line(0)).Slope > 2) return [];
        var halves = Halved.Of(mesh, degrees);
        MeshAssert.Valid(halves.UpperBody);
        MeshAssert.Valid(halves.LowerBody);
        return [LeastDraftDegrees(halves.UpperBody), LeastDraftDegrees(halves.LowerBody)];
    }

    /// <summary>Least angle from the vertical of the facets that look up, degrees.</summary>
    private static double LeastDraftDegrees(TriangleMesh body) => body.Facets.Select(body.AreaNormal).Where(n => n.Z >= 0).Min(n => Math.Atan2(n.Z, n.Plan.Length) * 180 / Math.PI);

    private static HashSet<Vec3> Corners(TriangleMesh body) => [.. body.Facets.Where(f => body.AreaNormal(f).Z < 0).SelectMany(f => new[] { f.A, f.B, f.C }).Select(v => body.Vertices[v])];

    /// <summary>Lowest and highest point of a mesh on a line along z, facet by facet.</summary>
    private static (double Low, double High) Column(TriangleMesh mesh, Vec2 p)
    {
        var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var f in mesh.Facets)
        {
            var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            var area = Vec2.Cross(b.Plan - a.Plan, c.Plan - a.Plan);
            if (area == 0) continue;
            var (u, v) = (Vec2.Cross(p - a.Plan, c.Plan - a.Plan) / area, Vec2.Cross(b.Plan - a.Plan, p - a.Plan) / area);
            if (u < 0 || v < 0 || u + v > 1) continue;
            var z = a.Z + (u * (b.Z - a.Z)) + (v * (c.Z - a.Z));
            (low, high) = (Math.Min(low, z), Math.Max(high, z));
        }

        return (low, high);
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
