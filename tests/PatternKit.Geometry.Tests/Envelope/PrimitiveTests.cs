using CsCheck;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Envelope;

/// <summary>
/// Faces, edges and vertices under a cone, a ball and a rounded cone: against the definition of a dilation (Serra,
/// Image Analysis and Mathematical Morphology, 1982), the supremum over sampled points, and against closed forms.
/// </summary>
public class PrimitiveTests
{
    private static readonly RoundedCone[] Profiles =
        [new(2 * Math.PI / 180, 0), new(0.3, 0), new(0, 4), new(2 * Math.PI / 180, 3), new(0.5, 2)];

    private static readonly Gen<double> Far = Gen.Double[-50, 50];

    private static readonly Gen<Primitive> Anything = Gen.Select(Far.Array[9], Gen.Int[0, 2], Gen.Int[0, 4]).Select((c, kind, number) =>
    {
        Vec3 a = new(c[0], c[1], c[2]), b = a + new Vec3(c[3] / 5, c[4] / 5, c[5] / 20), d = a + new Vec3(c[6] / 5, c[7] / 5, c[8] / 20);
        var profile = Profiles[number];
        return kind == 0 ? Primitive.Face(a, b, d, profile) : kind == 1 ? Primitive.Edge(a, b, profile) : Primitive.Vertex(a, profile);
    });

    public static TheoryData<int> ProfileNumbers => [.. Enumerable.Range(0, 5)];

    [Fact]
    public void A_cone_over_a_point_falls_with_the_cotangent_of_its_angle()
    {
        var cone = new RoundedCone(Math.PI / 6, 0);
        Primitive.Vertex(new(1, 2, 10), cone).TryEvaluate(new(4, 6), out var value, out var gradient);
        Assert.Equal(10 - (5 * Math.Sqrt(3)), value, 12);
        Assert.Equal(-Math.Sqrt(3) * 3 / 5, gradient.X, 12);
        Assert.Equal(-Math.Sqrt(3) * 4 / 5, gradient.Y, 12);
    }

    [Fact]
    public void A_ball_over_a_point_is_a_hemisphere_and_nothing_beyond()
    {
        var point = Primitive.Vertex(new(0, 0, 1), new(0, 5));
        Assert.True(point.TryEvaluate(new(3, 0), out var value, out _));
        Assert.Equal(5, value, 12);
        Assert.False(point.TryEvaluate(new(5.001, 0), out _, out _));
    }

    [Fact]
    public void A_ball_over_a_tilted_face_is_its_plane_shifted_along_the_normal()
    {
        // Plane z = x / 2: shifted by r along the normal it rises by r √(1 + 1/4).
        var face = Primitive.Face(new(-50, -50, -25), new(50, -50, 25), new(0, 80, 0), new(0, 2));
        Assert.True(face.TryEvaluate(new(3, 1), out var value, out var gradient));
        Assert.Equal(1.5 + (2 * Math.Sqrt(1.25)), value, 12);
        Assert.Equal(0.5, gradient.X, 12);
    }

    [Fact]
    public void A_rounded_cone_is_smooth_where_ball_and_cone_meet()
    {
        var profile = new RoundedCone(0.2, 3);
        var d = 3 * Math.Cos(0.2);
        Assert.Equal(profile.Height(d - 1e-9), profile.Height(d + 1e-9), 7);
        Assert.Equal(3 * Math.Sin(0.2), profile.Height(d), 12);
        Assert.Equal(-1 / Math.Tan(0.2), profile.Derivative(d + 1e-9), 9);
        Assert.Equal(profile.Derivative(d - 1e-10), profile.Derivative(d + 1e-10), 6);
    }

    [Theory]
    [MemberData(nameof(ProfileNumbers))]
    public void The_envelope_of_a_triangle_with_its_border_is_the_supremum_over_its_points(int number)
    {
        var profile = Profiles[number];
        var coordinate = Gen.Double[-10, 10];
        Gen.Select(coordinate.Array[9], coordinate, coordinate).Sample(
            (c, x, y) =>
            {
                Vec3 a = new(c[0], c[1], c[2]), b = new(c[3], c[4], c[5]), d = new(c[6], c[7], c[8]);
                if (Math.Abs(Vec2.Cross(b.Plan - a.Plan, d.Plan - a.Plan)) < 1) return;
                var p = new Vec2(x, y);
                var exact = Best(p, [
                    Primitive.Face(a, b, d, profile), Primitive.Edge(a, b, profile), Primitive.Edge(b, d, profile), Primitive.Edge(d, a, profile),
                    Primitive.Vertex(a, profile), Primitive.Vertex(b, profile), Primitive.Vertex(d, profile)]);
                var sampled = double.NegativeInfinity;
                const int n = 60;
                for (var i = 0; i <= n; i++)
                {
                    for (var j = 0; j <= n - i; j++)
                    {
                        var q = a + ((double)i / n * (b - a)) + ((double)j / n * (d - a));
                        sampled = Math.Max(sampled, q.Z + profile.Height(Vec2.Distance(p, q.Plan)));
                    }
                }

                Assert.True(sampled <= exact + 1e-9, $"a sample is {sampled - exact} above the envelope");
                // The samples are at most a sixtieth of an edge apart, and a ball ends abruptly: only a cone bounds what they miss.
                if (profile.Angle > 0.1) Assert.True(exact - sampled < 20.0 / n * 2 * (1 + profile.Slope), $"the envelope is {exact - sampled} above all samples");
            },
            iter: 300);
    }

    [Fact]
    public void The_gradient_is_that_of_the_value()
    {
        var coordinate = Gen.Double[-10, 10];
        Gen.Select(coordinate.Array[6], coordinate, coordinate, Gen.Int[0, 4]).Sample(
            (c, x, y, number) =>
            {
                var edge = Primitive.Edge(new(c[0], c[1], c[2] / 4), new(c[3], c[4], c[5] / 4), Profiles[number]);
                const double h = 1e-6;
                // Above the edge itself a cone has a ridge, and with it no single gradient.
                var run = edge.B.Plan - edge.A.Plan;
                if (!(Math.Abs(Vec2.Cross(run, new Vec2(x, y) - edge.A.Plan)) > 1e-3 * run.Length) || run.Length < 1e-3) return;
                if (!edge.TryEvaluate(new(x, y), out var v, out var g)
                    || !edge.TryEvaluate(new(x + h, y), out var right, out _) || !edge.TryEvaluate(new(x - h, y), out var left, out _)) return;
                // On the very rim of a ball there is no slope; moving along the rim would not show it.
                if (g.Length > 1e9) return;
                var scale = 1 + Math.Abs(g.X);
                // Second differences blow up where a ball meets its end; leave a thin rim out.
                if (Math.Abs(right - (2 * v) + left) > 1e-8 * scale) return;
                Assert.Equal(0, ((right - left) / (2 * h) - g.X) / scale, 4);
            },
            iter: 2000);
    }

    [Fact]
    public void The_gradient_at_the_rim_of_a_ball_is_a_number()
    {
        // Four from the edge's line, square to it: the slope is infinite one way and none the other.
        var edge = Primitive.Edge(new(0, 0, 0), new(5, 0, 0), new(0, 4));
        Assert.True(edge.TryEvaluate(new(2, 4), out var value, out var gradient));
        Assert.Equal(0, value);
        Assert.Equal(0, gradient.X);
        Assert.True(gradient.Y < -1e300);
    }

    [Fact]
    public void The_tree_finds_what_trying_every_primitive_finds()
    {
        Gen.Select(Anything.Array[1, 200], Gen.Select(Far, Far).Array[20]).Sample(
            (primitives, places) =>
            {
                var envelope = new UpperEnvelope<Primitive>([.. primitives], -1000);
                foreach (var (x, y) in places)
                    Assert.Equal(Math.Max(-1000, Best(new(x, y), primitives)), envelope.At(new(x, y)).Value);
            },
            iter: 200);
    }

    [Fact]
    public void The_tree_tells_whether_trying_every_primitive_finds_something_above_a_level() =>
        Gen.Select(Anything.Array[1, 200], Gen.Select(Far, Far, Gen.Double[-3, 3], Gen.Bool).Array[20]).Sample(
            (primitives, questions) =>
            {
                var envelope = new UpperEnvelope<Primitive>([.. primitives], -1000);
                foreach (var (x, y, off, same) in questions)
                {
                    var height = Math.Max(-1000, Best(new(x, y), primitives));
                    // The level itself is not above the level.
                    var level = same ? height : height + off;
                    Assert.Equal(height > level, envelope.Exceeds(new(x, y), level));
                    var found = envelope.At(new(x, y), level).Value;
                    Assert.True(height < level ? found == height : found >= level && found <= height);
                }
            },
            iter: 200);

    private static double Best(Vec2 p, Primitive[] primitives) =>
        primitives.Max(q => q.TryEvaluate(p, out var v, out _) ? v : double.NegativeInfinity);
}
