using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>The space over bodies of known volume: that of the prism over their plan up to the level, less their own.</summary>
public class SpaceUnderLevelTests
{
    // A flat plate: area times head, exactly.
    [Fact]
    public void Over_a_plate_it_is_area_times_head() =>
        Assert.Equal(30.0 * 20 * (82.5 - 12), SpaceUnderLevel.Of(Turned([(0, 0), (0, 0)], 4, box: (30, 20, 12)), 82.5), 1e-9);

    // An upright cylinder, a cone and a frustum, many-sided: base area times level less the body's own volume, exactly.
    [Theory]
    [InlineData(40, 40, 25)]
    [InlineData(40, 0, 25)]
    [InlineData(40, 31, 7)]
    public void Over_a_turned_body_it_is_the_prism_less_the_body(double foot, double top, double height)
    {
        const int Sides = 90;
        var body = Turned([(foot, 0), (top, height)], Sides);
        var area = Sides / 2.0 * foot * foot * Math.Sin(2 * Math.PI / Sides);
        Assert.Equal((area * 100) - body.Volume(), SpaceUnderLevel.Of(body, 100), 1e-6);
        // The frustum of a many-sided pyramid: h/3 (A + a + √(A a)).
        var small = area * top * top / (foot * foot);
        Assert.Equal((area * 100) - (height / 3 * (area + small + Math.Sqrt(area * small))), SpaceUnderLevel.Of(body, 100), 1e-6);
    }

    // A web answer to a set problem gives 7043 N for a hemispherical shell, 500 mm outside, with the metal 300 mm over the joint at 7200 kg/m3: the curved skin times the
    // full head. By the plan it is ρ g (π R² h − 2/3 π R³) = 1849 N.
    [Fact]
    public void A_hemisphere_lifts_by_its_plan_and_not_by_its_skin()
    {
        (double, double)[] arc = [.. Enumerable.Range(0, 181).Select(i => (250 * Math.Cos(i * Math.PI / 360), 250 * Math.Sin(i * Math.PI / 360)))];
        var lift_N = SpaceUnderLevel.Of(Turned(arc, 360), 300) * 1e-9 * 7200 * 9.81;
        Assert.Equal(1849, lift_N, 1.0);
        Assert.Equal(7200 * 9.81 * 1e-9 * Math.PI * ((250.0 * 250 * 300) - (2.0 / 3 * 250 * 250 * 250)), lift_N, 0.8);
        Assert.True(lift_N < 0.3 * 7043);
    }

    [Fact]
    public void What_lies_in_the_excepted_plane_is_not_counted_and_what_stands_over_the_level_counts_against()
    {
        var plate = Turned([(0, 0), (0, 0)], 4, box: (30, 20, 12));
        Assert.Equal(0, SpaceUnderLevel.Of(plate, 82.5, 12), 1e-12);
        Assert.Equal(-30.0 * 20 * 2, SpaceUnderLevel.Of(plate, 10), 1e-9);
    }

    /// <summary>A body turned about z from its foot up, closed below and, where it does not end in a point, above; or a box.</summary>
    private static TriangleMesh Turned((double R, double Z)[] profile, int sides, (double X, double Y, double Z)? box = null)
    {
        Vec3[][] rings = box is { } b
            ? [.. new[] { 0, b.Z }.Select(z => new Vec3[] { new(0, 0, z), new(b.X, 0, z), new(b.X, b.Y, z), new(0, b.Y, z) })]
            : [.. profile.Select(p => Enumerable.Range(0, sides).Select(i => new Vec3(p.R * Math.Cos(2 * Math.PI * i / sides), p.R * Math.Sin(2 * Math.PI * i / sides), p.Z)).ToArray())];
        var vertices = rings.SelectMany(r => r).ToList();
        var facets = new List<Facet>();
        for (var k = 0; k + 1 < rings.Length; k++)
        {
            for (var i = 0; i < sides; i++)
            {
                var (a, c) = ((k * sides) + i, (k * sides) + ((i + 1) % sides));
                facets.Add(new(a, c, c + sides));
                facets.Add(new(a, c + sides, a + sides));
            }
        }

        for (var i = 1; i + 1 < sides; i++)
        {
            facets.Add(new(0, i + 1, i));
            var top = (rings.Length - 1) * sides;
            facets.Add(new(top, top + i, top + i + 1));
        }

        return new([.. vertices], [.. facets]);
    }
}
