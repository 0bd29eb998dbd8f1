using PatternKit.Geometry.Grids;

namespace PatternKit.Geometry.Tests.Grids;

/// <summary>Volume over skin on cells, ten and more across, against closed forms: plate t/2, square bar a/4, cube a/6, round bar D/4, ball D/6.</summary>
public class SectionModulusTests
{
    private const double Within = 0.06;

    [Fact]
    public void Plates_bars_cubes_and_round_bodies_have_the_moduli_of_their_closed_forms()
    {
        foreach (var size in new[] { 10.3, 13.7, 17.0 })
        {
            Check(size / 2, Bodies.Boxes(1, Bodies.Box(-40, -40, -size / 2, 40, 40, size / 2)));
            Check(size / 2, Bodies.Boxes(1, Bodies.Box(-size / 2, -40, -40, size / 2, 40, 40)));
            Check(size / 4, Bodies.Boxes(1, Bodies.Box(-40, -size / 2, -size / 2, 40, size / 2, size / 2)));
            Check(size / 6, Bodies.Boxes(1, Bodies.Box(-size / 2, -size / 2, -size / 2, size / 2, size / 2, size / 2)));
            Check(size / 4, Bodies.Cylinder(size, 60, 1, false));
            Check(size / 4, Bodies.Cylinder(size, 60, 1, true));
            Check(size / 6, Bodies.Sphere(size, 1));
        }
    }

    [Fact]
    public void A_plate_that_leans_has_the_modulus_of_one_that_does_not()
    {
        foreach (var normal in new Numerics.Vec3[] { new(1, 0, 1), new(0.4, 0, 1), new(1, 1, 1) })
            Check(10 / 2.0, Bodies.Plate(normal, 10, 50, 1));
    }

    // Two plates of 10 mm that meet in a T: in steel a fine grid gives 1.58 times the freezing time of the plate, 1.26 times its modulus.
    [Fact]
    public void A_junction_has_more_than_its_plates()
    {
        var grid = Bodies.Boxes(1, Bodies.Box(-60, -60, 0, 60, 60, 10), Bodies.Box(-5, -60, 10, 5, 60, 60));
        var balls = LocalThickness.Of(SkinDistance.Of(grid)).Balls.Where(b => Math.Abs(grid.Origin.Y + b.Middle.Y) < 2).ToArray();
        Assert.Equal(1.26 * 5, SectionModulus.At_mm(grid, balls[0]), 0.05 * 6.3);
    }

    private static void Check(double expected, SolidGrid grid)
    {
        var balls = LocalThickness.Of(SkinDistance.Of(grid)).Balls;
        var middle = balls.Where(b => b.Radius > 0.97 * balls[0].Radius).MinBy(b => (grid.Origin + (grid.Cell_mm * b.Middle)).Length);
        Assert.Equal(expected, SectionModulus.At_mm(grid, middle), Within * expected);
    }
}
