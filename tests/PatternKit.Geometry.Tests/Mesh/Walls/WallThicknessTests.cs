using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Columns;

namespace PatternKit.Geometry.Tests.Mesh.Walls;

/// <summary>Thickness behind a point of a skin against closed forms, and against all points of random bodies.</summary>
public sealed class WallThicknessTests
{
    [Fact]
    public void A_plate_is_as_thick_at_its_rim_as_in_its_middle()
    {
        var plate = Shapes.Box(new(0, 0, 0), new(40, 30, 2));
        var walls = new WallThickness(plate);
        foreach (var s in SkinSampling.Over(plate, 1.5).Samples.Where(s => Math.Abs(walls.Normal(s.Facet).Z) > 0.5))
            Assert.Equal(2, walls.At(s.Facet, s.At)!.Value.Thickness_mm, 1e-12);
    }

    [Theory]
    [InlineData(20)]
    [InlineData(44)]
    public void A_wedge_is_as_thick_as_the_ball_between_its_faces(double angle_deg)
    {
        var (sin, cos) = Math.SinCos(double.DegreesToRadians(angle_deg));
        const double length = 50;
        var wedge = TestBodies.Bar(30, (0, 0), (length, 0), (length * cos, length * sin));
        var walls = new WallThickness(wedge);
        // The ball that touches both faces at s from the edge has the radius s tan(α / 2).
        foreach (var s in SkinSampling.Over(wedge, 2).Samples.Where(s => walls.Normal(s.Facet).Z < -0.99 && s.At.X < length * cos))
            Assert.Equal(2 * s.At.X * Math.Tan(double.DegreesToRadians(angle_deg / 2)), walls.At(s.Facet, s.At)!.Value.Thickness_mm, 1e-9);
    }

    [Fact]
    public void An_edge_of_more_than_45_degrees_is_no_wall()
    {
        var wedge = TestBodies.Bar(30, (0, 0), (50, 0), (50 * Math.Cos(0.8), 50 * Math.Sin(0.8)));
        var walls = new WallThickness(wedge);
        Assert.All(SkinSampling.Over(wedge, 2).Samples.Where(s => walls.Normal(s.Facet).Z < -0.99 && s.At.X < 30), s => Assert.Null(walls.At(s.Facet, s.At)));
    }

    [Fact]
    public void Under_a_step_the_ball_rests_on_its_foot()
    {
        var bar = TestBodies.Bar(20, (0, 0), (100, 0), (100, 4), (50, 4), (50, 10), (0, 10));
        var walls = new WallThickness(bar);
        foreach (var s in SkinSampling.Over(bar, 1).Samples.Where(s => walls.Normal(s.Facet).Z < -0.99))
        {
            // Through the foot (50, 4), tangent to the underside at x = 50 − u: diameter (u² + 4²) / 4, at most the whole height.
            var u = 50 - s.At.X;
            Assert.Equal(u <= 0 ? 4 : Math.Min(10, ((u * u) + 16) / 4), walls.At(s.Facet, s.At)!.Value.Thickness_mm, 1e-9);
        }
    }

    [Fact]
    public void A_ball_is_as_thick_as_its_diameter_and_a_tube_as_its_wall()
    {
        var ball = Shapes.Sphere(10, 96, 48);
        var walls = new WallThickness(ball);
        // A facet is square to the way to the middle in one point only. At e from it, balls along its normal lie that far off the middle, and what faces
        // them within 45° is nearer by up to 2 e tan(45°/2). Here e is at most the sixth of a diagonal of two facets.
        var off = Math.Sqrt(2) * 10 * Math.PI / 48 / 6;
        Assert.All(SkinSampling.Over(ball, 1).Samples, s => Assert.InRange(walls.At(s.Facet, s.At)!.Value.Thickness_mm, 20 - (2 * off * Math.Tan(Math.PI / 8)) - 0.05, 20));

        var tube = Tube(10, 8, 30, 96);
        walls = new(tube);
        Assert.All(
            SkinSampling.Over(tube, 1).Samples.Where(s => Math.Abs(walls.Normal(s.Facet).Z) < 0.5),
            s => Assert.Equal(2, walls.At(s.Facet, s.At)!.Value.Thickness_mm, 0.02));
    }

    [Fact]
    public void Of_random_bodies_the_ball_holds_nothing_of_the_other_side_and_touches_it() => RandomBodies.Bumpy.Sample(
        mesh =>
        {
            var walls = new WallThickness(mesh);
            var points = Points(mesh).ToArray();
            for (var f = 0; f < mesh.Facets.Length; f += 7)
            {
                var at = Middle(mesh, f);
                var inward = -1 * walls.Normal(f);
                if (walls.At(f, at) is not { } r) continue;
                var radius = r.Thickness_mm / 2;
                Assert.Equal(radius, (r.Centre - at).Length, 1e-9);
                Assert.Equal(radius, (r.Centre - r.Across).Length, 1e-6);
                foreach (var (q, facet) in points)
                    if (Vec3.Dot(walls.Normal(facet), inward) >= Math.Cos(Math.PI / 4)) Assert.True((q - r.Centre).Length >= radius - 1e-7);
                // The other side is on the skin.
                Assert.InRange(Enumerable.Range(0, mesh.Facets.Length).Min(g => Nearest(mesh, g, r.Across)), 0, 1e-6);
            }
        },
        iter: 20);

    [Fact]
    public void The_distance_to_the_skin_of_a_block_is_that_to_its_nearest_face_edge_or_corner() => Gen.Select(Gen.Double[-5, 25], Gen.Double[-5, 25], Gen.Double[-5, 15]).Sample(
        (x, y, z) =>
        {
            var (low, high) = (new Vec3(0, 0, 0), new Vec3(20, 20, 10));
            var outside = new Vec3(Math.Max(0, Math.Max(-x, x - 20)), Math.Max(0, Math.Max(-y, y - 20)), Math.Max(0, Math.Max(-z, z - 10))).Length;
            var inside = Math.Min(Math.Min(x, 20 - x), Math.Min(Math.Min(y, 20 - y), Math.Min(z, 10 - z)));
            Assert.Equal(outside > 0 ? outside : inside, new WallThickness(Shapes.Box(low, high)).DistanceTo(new(x, y, z)), 1e-9);
        },
        iter: 200);

    [Fact]
    public void A_ray_meets_what_stands_in_its_way()
    {
        var walls = new WallThickness(Shapes.Box(new(0, 0, 10), new(10, 10, 12)).Plus(Shapes.Box(new(0, 0, 20), new(10, 10, 22))));
        Assert.Null(walls.Meeting(new(13, 4, 0), new(0, 0, 1)));
        // From between plates, over a grid on and off the diagonals of their faces.
        for (var x = 0.5; x < 10; x += 0.5)
            for (var y = 0.5; y < 10; y += 0.5)
            {
                Assert.Equal(5, walls.Meeting(new(x, y, 15), new(0, 0, 1))!.Value, 1e-12);
                Assert.Equal(3, walls.Meeting(new(x, y, 15), new(0, 0, -1))!.Value, 1e-12);
                Assert.Null(walls.Meeting(new(x, y, 23), new(0, 0, 1)));
            }
    }

    /// <summary>Between two upright polygons about z.</summary>
    internal static TriangleMesh Tube(double outer, double inner, double height, int corners)
    {
        var facets = new List<(Vec3, Vec3, Vec3)>();
        for (var i = 0; i < corners; i++)
        {
            var ((s, c), (t, d)) = (Math.SinCos(2 * Math.PI * i / corners), Math.SinCos(2 * Math.PI * ((i + 1) % corners) / corners));
            Quad(P(outer, c, s, 0), P(outer, d, t, 0), P(outer, d, t, height), P(outer, c, s, height));
            Quad(P(inner, d, t, 0), P(inner, c, s, 0), P(inner, c, s, height), P(inner, d, t, height));
            Quad(P(inner, c, s, height), P(outer, c, s, height), P(outer, d, t, height), P(inner, d, t, height));
            Quad(P(inner, d, t, 0), P(outer, d, t, 0), P(outer, c, s, 0), P(inner, c, s, 0));
        }

        return MeshBuilder.Weld(facets);

        static Vec3 P(double r, double c, double s, double z) => new(r * c, r * s, z);

        void Quad(Vec3 a, Vec3 b, Vec3 c, Vec3 d) => facets.AddRange([(a, b, c), (a, c, d)]);
    }

    private static IEnumerable<(Vec3 At, int Facet)> Points(TriangleMesh mesh)
    {
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var t = mesh.Facets[f];
            var (a, b, c) = (mesh.Vertices[t.A], mesh.Vertices[t.B], mesh.Vertices[t.C]);
            for (var i = 0; i <= 4; i++)
                for (var j = 0; i + j <= 4; j++)
                    yield return (a + (i / 4.0 * (b - a)) + (j / 4.0 * (c - a)), f);
        }
    }

    private static Vec3 Middle(TriangleMesh mesh, int f) =>
        (1.0 / 3) * (mesh.Vertices[mesh.Facets[f].A] + mesh.Vertices[mesh.Facets[f].B] + mesh.Vertices[mesh.Facets[f].C]);

    private static double Nearest(TriangleMesh mesh, int f, Vec3 p)
    {
        var t = mesh.Facets[f];
        return (TrianglePoint.Nearest(mesh.Vertices[t.A], mesh.Vertices[t.B], mesh.Vertices[t.C], p) - p).Length;
    }
}
