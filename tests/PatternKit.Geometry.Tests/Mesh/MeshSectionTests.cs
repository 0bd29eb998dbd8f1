using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

public class MeshSectionTests
{
    [Fact]
    public void A_cube_cut_at_half_height_is_a_square_counter_clockwise()
    {
        var loop = Assert.Single(MeshSection.AtHeight(Shapes.Cube(10), 5));
        Assert.Equal(100, Area(loop), 12);
    }

    [Fact]
    public void The_top_face_shows_at_its_height_and_the_bottom_face_does_not()
    {
        Assert.Equal(100, Area(Assert.Single(MeshSection.AtHeight(Shapes.Cube(10), 10))), 12);
        Assert.Empty(MeshSection.AtHeight(Shapes.Cube(10), 0));
        Assert.Empty(MeshSection.AtHeight(Shapes.Cube(10), 10.001));
    }

    [Fact]
    public void The_tip_of_a_sphere_gives_no_loop() =>
        Assert.Empty(MeshSection.AtHeight(Shapes.Sphere(5, 12, 6), 5));

    [Fact]
    public void A_torus_cut_through_its_middle_is_a_ring_with_a_clockwise_hole()
    {
        // Inscribed polygons of n sides: n/2 r² sin(2π/n). At z = 0 both rims are vertices of the mesh.
        var loops = MeshSection.AtHeight(Shapes.Torus(30, 10, 48, 24), 0);
        Assert.Equal(2, loops.Length);
        double Polygon(double r) => 24 * r * r * Math.Sin(Math.PI / 24);
        var areas = loops.Select(Area).Order().ToArray();
        Assert.Equal(-Polygon(20), areas[0], 8);
        Assert.Equal(Polygon(40), areas[1], 8);
    }

    [Fact]
    public void Sections_at_all_heights_integrate_to_the_volume() =>
        Gen.Select(Gen.Int[3, 20], Gen.Int[2, 12], Gen.Double[1, 30]).Sample((around, rings, radius) =>
        {
            // Between two rings of vertices the area is quadratic in height, so Simpson's rule is exact there.
            var mesh = Shapes.Sphere(radius, around, rings);
            double volume = 0;
            for (var i = 0; i < rings; i++)
            {
                var (low, high) = (-radius * Math.Cos(Math.PI * i / rings), -radius * Math.Cos(Math.PI * (i + 1) / rings));
                double At(double t) => MeshSection.AtHeight(mesh, low + (t * (high - low))).Sum(Area);
                // Gauss-Legendre of three points keeps off the rings.
                var g = Math.Sqrt(0.15);
                volume += (high - low) * ((5 * At(0.5 - g)) + (8 * At(0.5)) + (5 * At(0.5 + g))) / 18;
            }

            Assert.Equal(mesh.Volume(), volume, 1e-9 * mesh.Volume());
        }, iter: 60);

    [Fact]
    public void Sections_through_vertices_close_on_any_mesh() =>
        Gen.Select(Gen.Int[3, 16], Gen.Int[2, 12], Gen.Int[0, 1000]).Sample((around, rings, pick) =>
        {
            var mesh = Shapes.Sphere(9, around, rings).Plus(Shapes.Torus(30, 5, around, 3 + rings));
            var z = mesh.Vertices[pick % mesh.Vertices.Length].Z;
            Assert.All(MeshSection.AtHeight(mesh, z), loop => Assert.True(loop.Length >= 3));
        }, iter: 200);

    [Fact]
    public void A_slanted_plane_cuts_a_cube_in_the_regular_hexagon()
    {
        // The plane square to the space diagonal through the centre: hexagon of side a/√2, area (3√3/4) a².
        var loop = Assert.Single(MeshSection.AtPlane(Shapes.Cube(2), new(1, 1, 1), new(1, 1, 1)));
        var sum = new Vec3(0, 0, 0);
        for (var i = 0; i < loop.Length; i++) sum += 0.5 * Vec3.Cross(loop[i] - loop[0], loop[(i + 1) % loop.Length] - loop[0]);
        Assert.Equal(3 * Math.Sqrt(3) / 4 * 4, sum.Length, 12);
        Assert.True(sum.Z > 0, "counter-clockwise seen from the tip of the normal");
    }

    [Fact]
    public void A_mesh_with_a_hole_at_that_height_is_refused()
    {
        var open = Shapes.Cube(10).WithFacets(f => f.RemoveAt(4));
        Assert.Throws<ArgumentException>(() => MeshSection.AtHeight(open, 5));
        Assert.Throws<ArgumentException>(() => MeshSection.AtPlane(open, new(0, 0, 5), new(0, 0, 0)));
    }

    private static double Area(ImmutableArray<Vec2> loop)
    {
        double twice = 0;
        for (var i = 0; i < loop.Length; i++) twice += Vec2.Cross(loop[i], loop[(i + 1) % loop.Length]);
        return twice / 2;
    }
}
