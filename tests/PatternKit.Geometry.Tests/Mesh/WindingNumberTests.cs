using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

public class WindingNumberTests
{
    private static readonly Gen<Vec3> Points = Gen.Select(Gen.Double[-80, 80], Gen.Double[-80, 80], Gen.Double[-40, 40], (x, y, z) => new Vec3(x, y, z));

    [Fact]
    public void In_a_box_it_is_one_and_outside_zero()
    {
        // The box tells by its sides which it is.
        var winding = new WindingNumber(Shapes.Box(new(-50, -30, -20), new(40, 60, 10)));
        Points.Sample(p =>
        {
            // On the skin it is not defined.
            if (p.X is -50 or 40 || p.Y is -30 or 60 || p.Z is -20 or 10) return;
            var inside = p.X > -50 && p.X < 40 && p.Y > -30 && p.Y < 60 && p.Z > -20 && p.Z < 10;
            Assert.Equal(inside ? 1 : 0, winding.Exact(p), 1e-6);
        }, iter: 2000);
    }

    [Fact]
    public void In_round_bodies_it_is_one_and_outside_zero_exactly_and_nearly()
    {
        // A ring: inside where the distance from the tube's circle is less than its radius, by more than the chords' height.
        var torus = new WindingNumber(Shapes.Torus(50, 20, 120, 60));
        Points.Sample(p =>
        {
            var distance = Math.Sqrt(Math.Pow(Math.Sqrt((p.X * p.X) + (p.Y * p.Y)) - 50, 2) + (p.Z * p.Z));
            if (distance is > 19.9 and < 20.1) return;
            var expected = distance < 20 ? 1 : 0;
            Assert.Equal(expected, torus.Exact(p), 1e-6);
            Assert.Equal(expected, torus.At(p), 0.02);
        }, iter: 300);
    }

    [Fact]
    public void Nearly_is_within_two_hundredths_of_exactly_for_any_soup() =>
        Gen.Select(Points.Array[3, 300], Points.Array[20]).Sample((corners, points) =>
        {
            var facets = Enumerable.Range(0, corners.Length / 3).Select(i => new Facet(3 * i, (3 * i) + 1, (3 * i) + 2));
            var winding = new WindingNumber(new([.. corners], [.. facets]));
            foreach (var p in points.Append(new(300, 20, 10)).Append(new(0, 0, 1e6))) Assert.Equal(winding.Exact(p), winding.At(p), 0.02);
        }, iter: 200);

    [Fact]
    public void A_void_takes_away_and_shells_upon_each_other_add_up()
    {
        var ball = Shapes.Sphere(10, 24, 16);
        Assert.Equal(0, new WindingNumber(ball.Plus(Shapes.Sphere(5, 24, 16).Reversed())).Exact(new(1, 2, 0)), 1e-9);
        Assert.Equal(2, new WindingNumber(ball.Plus(Shapes.Cube(4))).Exact(new(1, 2, 1)), 1e-9);
        Assert.Equal(-1, new WindingNumber(ball.Reversed()).Exact(new(1, 2, 1)), 1e-9);
    }

    [Fact]
    public void One_side_of_a_cube_seen_from_its_middle_is_a_sixth()
    {
        // By symmetry; and all but that side are five sixths.
        var cube = Shapes.Cube(10);
        Assert.Equal(1.0 / 6, new WindingNumber(cube, [2, 3]).Exact(new(5, 5, 5)), 1e-12);
        Assert.Equal(5.0 / 6, new WindingNumber(cube, [0, 1, 4, 5, 6, 7, 8, 9, 10, 11]).Exact(new(5, 5, 5)), 1e-12);
    }

    [Fact]
    public void Through_an_open_cap_it_changes_smoothly_as_the_cap_of_a_ball_does()
    {
        // A ball without the facets about its north pole: on the axis, what is missing is the solid angle of a cone, 2π(1 − cos α), seen from
        // a point at height z against the cap's rim at height h and radius r. The many-sided rim is that of a cone within a thousandth.
        var (radius, rings) = (50.0, 60);
        var ball = Shapes.Sphere(radius, 360, rings);
        var angle = Math.PI * 10 / rings;
        var (h, r) = (radius * Math.Cos(angle), radius * Math.Sin(angle));
        var open = ball.WithFacets(f => [.. f.Where(t => Math.Min(Math.Min(ball.Vertices[t.A].Z, ball.Vertices[t.B].Z), ball.Vertices[t.C].Z) < h - 1e-6)]);
        var winding = new WindingNumber(open);
        double? last = null;
        for (var z = -40.0; z < 90; z += 0.5)
        {
            var cos = (h - z) / Math.Sqrt(((h - z) * (h - z)) + (r * r));
            var missing = (1 - cos) / 2;
            var expected = 1 - missing;
            Assert.Equal(expected, winding.Exact(new(0, 0, z)), 1e-3);
            Assert.Equal(expected, winding.At(new(0, 0, z)), 0.02);
            if (last is { } before) Assert.InRange(before - winding.Exact(new(0, 0, z)), 0, 0.02);
            last = winding.Exact(new(0, 0, z));
        }
    }

    [Fact]
    public void Nothing_winds_zero_times_and_facets_that_are_not_finite_count_for_nothing()
    {
        Assert.Equal(0, new WindingNumber(new([], [])).At(new(1, 2, 3)));
        var cube = Shapes.Cube(10);
        var odd = new TriangleMesh(cube.Vertices.Add(new(double.NaN, 0, 0)), cube.Facets.Add(new(8, 1, 2)));
        Assert.Equal(1, new WindingNumber(odd).At(new(4, 5, 6)), 1e-9);
    }
}
