using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

public class ExactPredicatesTests
{
    [Fact]
    public void A_point_a_last_bit_off_a_slanted_plane_is_told_from_one_on_it()
    {
        // x + y + z = 3·2⁻⁵⁰ + … : all differences are doubles, the products are not.
        Vec3 a = new(12, 12, 12), b = new(24, 24, 24.5), c = new(1, 5, 3);
        var d = a + (b - a) + (c - a);
        Assert.Equal(0, ExactPredicates.Orient3D(a, b, c, d));
        var up = ExactPredicates.Orient3D(a, b, c, d with { Z = Math.BitIncrement(d.Z) });
        Assert.NotEqual(0, up);
        Assert.Equal(-up, ExactPredicates.Orient3D(a, b, c, d with { Z = Math.BitDecrement(d.Z) }));
    }

    [Fact]
    public void Counter_clockwise_is_positive()
    {
        Assert.Equal(1, ExactPredicates.Orient2D(new(0, 0), new(1, 0), new(0, 1)));
        Assert.Equal(1, ExactPredicates.Orient3D(new(0, 0, 0), new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)));
    }

    [Fact]
    public void The_plane_grid_example_of_Kettner_and_others_shows_one_straight_line()
    {
        // Kettner, Mehlhorn, Pion, Schirra, Yap 2008, "Classroom examples of robustness problems", fig. 2a:
        // p = (0.5 + x u, 0.5 + y u), q = (12, 12), r = (24, 24), u = 2⁻⁵³: the sign is that of y − x.
        var u = Math.ScaleB(1, -53);
        for (var x = 0; x < 64; x++)
            for (var y = 0; y < 64; y++)
            {
                // At 0.5 and above u is half a step: keep to even multiples, which are doubles.
                var p = new Vec2(0.5 + (2 * x * u), 0.5 + (2 * y * u));
                Assert.Equal(Math.Sign(y - x), ExactPredicates.Orient2D(p, new(12, 12), new(24, 24)));
            }
    }

    [Fact]
    public void Nearly_coplanar_points_get_the_sign_of_whole_number_arithmetic()
    {
        // Points on a slanted plane in float32 steps, some a step off, some scaled out of every comfortable range.
        var step = Gen.Int[-3_000_000, 3_000_000];
        var point = Gen.Select(step, step, Gen.Int[-1, 1], Gen.Int[0, 6], (x, y, off, kind) =>
        {
            var p = new Vec3(x, y, (2.0 * x) - y + off);
            var scale = kind switch
            {
                0 => 1e-70,
                1 => 0.1,
                _ => Math.ScaleB(1, -15),
            };
            return scale * p;
        });
        Gen.Select(point, point, point, point).Sample(
            (a, b, c, d) => ExactPredicates.Orient3D(a, b, c, d) == ExactPredicates.Whole(a, b, c, d), iter: 20_000);
    }

    [Fact]
    public void Extreme_sizes_keep_their_sign()
    {
        foreach (var s in (double[])[1e-300, 1e-160, 1, 1e120, 1e300])
        {
            Vec3 a = new(0, 0, 0), b = new(s, 0, s), c = new(0, s, s);
            Assert.Equal(0, ExactPredicates.Orient3D(a, b, c, new(s, s, 2 * s)));
            Assert.Equal(1, ExactPredicates.Orient3D(a, b, c, new(s, s, 3 * s)));
            Assert.Equal(-1, ExactPredicates.Orient3D(a, b, c, new(s, s, s)));
            Assert.True(ExactPredicates.AreCollinear(a, b, new(2 * b.X / 4, 0, b.Z / 2)));
        }
    }
}
