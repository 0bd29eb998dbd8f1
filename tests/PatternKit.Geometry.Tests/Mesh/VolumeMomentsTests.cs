using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Columns;

namespace PatternKit.Geometry.Tests.Mesh;

public class VolumeMomentsTests
{
    [Fact]
    public void A_box_anywhere_has_its_sides_as_axes_and_spreads_of_a_side_over_root_twelve() =>
        Gen.Select(RandomBodies.Direction, Gen.Double[-500, 500], Gen.Double[-500, 500]).Sample((turn, x, y) =>
        {
            var box = Shapes.Box(default, new(30, 20, 10)).TurnedTo(turn);
            var moments = VolumeMoments.Of(box.Shifted(x, y, 100));
            Assert.Equal(6000, moments.Volume_mm3, 1e-6);
            var middle = new[] { new Vec3(15, 10, 5) }.Select(p => new TriangleMesh([p], []).TurnedTo(turn).Vertices[0] + new Vec3(x, y, 100)).Single();
            Assert.True((moments.Centre - middle).Length < 1e-9);
            var sides = new Vec3[] { new(1, 0, 0), new(0, 1, 0), new(0, 0, 1) };
            for (var i = 0; i < 3; i++)
            {
                Assert.Equal((30 - (10 * i)) / Math.Sqrt(12), moments.Spread_mm[i], 1e-9);
                Assert.Equal(1, Math.Abs(Vec3.Dot(moments.Axes[i], new TriangleMesh([sides[i]], []).TurnedTo(turn).Vertices[0])), 1e-12);
            }
        }, iter: 50);

    [Fact]
    public void A_cylinder_spreads_half_its_radius_across_and_its_length_over_root_twelve_along()
    {
        var moments = VolumeMoments.Of(TestBodies.Turned(720, (6, 0), (6, 40)));
        Assert.Equal(1, Math.Abs(moments.Axes[0].Z), 9);
        Assert.Equal(40 / Math.Sqrt(12), moments.Spread_mm[0], 1e-3);
        Assert.Equal(3, moments.Spread_mm[1], 1e-3);
        Assert.Equal(3, moments.Spread_mm[2], 1e-3);
    }

    [Fact]
    public void A_mesh_that_bounds_no_volume_is_refused()
    {
        Assert.Throws<ArgumentException>(() => VolumeMoments.Of(Shapes.Cube(3).Reversed()));
        Assert.Throws<ArgumentException>(() => VolumeMoments.Of(new([], [])));
    }
}
