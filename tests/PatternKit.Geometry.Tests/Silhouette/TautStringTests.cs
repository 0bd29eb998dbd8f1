using CsCheck;
using PatternKit.Geometry.Silhouette;

namespace PatternKit.Geometry.Tests.Silhouette;

/// <summary>Taut lines through closed strips, against closed forms and against what every shortest line must do (Lee and Preparata 1984).</summary>
public class TautStringTests
{
    [Fact]
    public void It_is_level_where_a_level_line_fits_and_at_the_height_wanted_if_that_fits()
    {
        (double, double)[] strip = [(0, 10), (2, 5), (-1, 4), (1, 7)];
        Assert.All(TautString.Closed([0, 1, 2, 3], 4, strip, 3), z => Assert.Equal(3, z));
        Assert.All(TautString.Closed([0, 1, 2, 3], 4, strip, 9), z => Assert.Equal(4, z));
        Assert.All(TautString.Closed([0, 1, 2, 3], 4, strip, -9), z => Assert.Equal(2, z));
    }

    [Fact]
    public void Over_one_peak_and_under_one_ceiling_it_is_two_straight_pieces()
    {
        // At least 10 at place 2, at most 4 at place 6, of a way 8 long: down by 1.5 a step on either side.
        (double, double)[] strip = [(-50, 50), (-50, 50), (10, 50), (-50, 50), (-50, 50), (-50, 50), (-50, 4), (-50, 50)];
        Assert.Equal([7, 8.5, 10, 8.5, 7, 5.5, 4, 5.5], TautString.Closed([0, 1, 2, 3, 4, 5, 6, 7], 8, strip, 0));
    }

    [Fact]
    public void In_a_narrow_strip_it_keeps_to_the_strip() =>
        Assert.Equal([1, 2, 3, 2], TautString.Closed([0, 2, 3, 7], 9, [(1, 1), (2, 2), (3, 3), (2, 2)], 0));

    [Fact]
    public void It_stays_within_the_bounds_bends_only_where_it_touches_one_and_towards_it()
    {
        var places = Gen.Select(Gen.Double[0.1, 5], Gen.Double[-10, 10], Gen.Double[0, 8]).Array[2, 40];
        places.Sample(strip =>
        {
            var at = new double[strip.Length];
            for (var i = 1; i < at.Length; i++) at[i] = at[i - 1] + strip[i - 1].Item1;
            var length = at[^1] + strip[^1].Item1;
            (double Low, double High)[] bounds = [.. strip.Select(s => (s.Item2, s.Item2 + s.Item3))];
            var z = TautString.Closed(at, length, bounds, 0);
            for (var i = 0; i < at.Length; i++)
            {
                var (before, after) = ((i + at.Length - 1) % at.Length, (i + 1) % at.Length);
                Assert.InRange(z[i], bounds[i].Low - 1e-9, bounds[i].High + 1e-9);
                var bend = ((z[after] - z[i]) / strip[i].Item1) - ((z[i] - z[before]) / strip[before].Item1);
                // A shortest line is straight but where a bound holds it: over a lower one it bends down, under an upper one up.
                if (bend < -1e-9) Assert.Equal(bounds[i].Low, z[i], 1e-9);
                if (bend > 1e-9) Assert.Equal(bounds[i].High, z[i], 1e-9);
            }
        });
    }
}
