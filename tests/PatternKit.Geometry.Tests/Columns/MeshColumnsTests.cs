using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Columns;

public class MeshColumnsTests
{
    private static readonly Vec3 Up = new(0, 0, 1);

    [Fact]
    public void A_box_that_the_cells_tile_is_exact_though_its_diagonals_pass_through_their_middles()
    {
        var columns = MeshColumns.Cast(Shapes.Cube(10), Up, 1);
        Assert.Equal((10, 10), (columns.Grid.Columns, columns.Grid.Rows));
        for (var row = 0; row < 10; row++)
            for (var column = 0; column < 10; column++)
                Assert.Equal([new(0, 10)], columns.At(column, row).ToArray());
        Assert.Equal(1000, columns.Volume_mm3, 1e-9);
    }

    [Fact]
    public void A_line_through_a_corner_or_along_a_ridge_meets_the_skin_once_each_way()
    {
        // An octahedron about the middle of the only row's middle cell: the line there goes through both tips, those beside it along edges.
        var octahedron = Shapes.Sphere(2.5, 4, 2);
        var columns = MeshColumns.Cast(octahedron, Up, 1);
        Assert.Equal((5, 5), (columns.Grid.Columns, columns.Grid.Rows));
        var middle = Assert.Single(columns.At(2, 2).ToArray());
        Assert.Equal(5, middle.Length, 12);
        Assert.Equal(3, Assert.Single(columns.At(1, 2).ToArray()).Length, 6);
        Assert.Equal(3, Assert.Single(columns.At(2, 3).ToArray()).Length, 6);
    }

    [Fact]
    public void On_sides_and_corners_the_line_counts_as_moved_a_little_right_and_less_up() =>
        Gen.Select(Gen.Int[0, 6], Gen.Int[0, 6], Gen.Int[1, 4], Gen.Int[1, 4], Gen.Int[3, 9], Gen.Int[2, 6]).Sample((x, y, w, d, around, rings) =>
        {
            // Corners on the middles of cells. Two cubes far off keep the grid where it is while the bodies between them move.
            var body = Shapes.Box(new(x + 0.5, y + 0.5, 0), new(x + w + 0.5, y + d + 0.5, 3))
                .Plus(Shapes.Sphere(3, around, rings, new(4.5, 6.5, 9)).Mapped(p => new(Math.Floor(p.X) + 0.5, Math.Floor(p.Y) + 0.5, p.Z)));
            TriangleMesh At(double dx, double dy) => body.Shifted(-dx, -dy, 0).Plus(Shapes.Cube(1).Shifted(-20, -20, 0)).Plus(Shapes.Cube(1).Shifted(29, 29, 0));
            var (on, beside) = (MeshColumns.Cast(At(0, 0), Up, 1), MeshColumns.Cast(At(1e-3, 1e-5), Up, 1));
            for (var row = 0; row < on.Grid.Rows; row++)
                for (var column = 0; column < on.Grid.Columns; column++)
                {
                    double Length(MeshColumns c) => c.At(column, row).ToArray().Sum(i => i.Length);
                    Assert.Equal(Length(beside), Length(on), 0.05);
                }
        }, iter: 300);

    [Fact]
    public void A_ball_has_the_volume_of_Archimedes_along_any_direction() =>
        RandomBodies.Direction.Sample(d =>
        {
            var columns = MeshColumns.Cast(Shapes.Sphere(10, 120, 60), d, 0.1);
            var ball = Shapes.Sphere(10, 120, 60).Volume();
            Assert.Equal(ball, columns.Volume_mm3, 5e-4 * ball);
        }, iter: 10);

    [Fact]
    public void A_cylinder_has_base_times_height_standing_lying_and_skew() =>
        RandomBodies.Direction.Sample(d =>
        {
            // The polygon of TurnedSolid has the area of the circle.
            var cylinder = TurnedSolid.Build(default, [(8, 0), (8, 30)], 180, Lattice.For(40));
            var volume = Math.PI * 64 * 30;
            foreach (var direction in new[] { Up, new Vec3(1, 0, 0), d })
                Assert.Equal(volume, MeshColumns.Cast(cylinder, direction, 0.1).Volume_mm3, 2e-3 * volume);
        }, iter: 5);

    [Fact]
    public void A_torus_has_the_volume_of_Pappus_and_two_intervals_across_its_hole()
    {
        var torus = Shapes.Torus(30, 10, 240, 120);
        foreach (var direction in new[] { Up, new Vec3(1, 0, 0), new Vec3(1, 2, 3) })
            Assert.Equal(torus.Volume(), MeshColumns.Cast(torus, direction, 0.25).Volume_mm3, 1e-3 * torus.Volume());
        var across = MeshColumns.Cast(torus, new(1, 0, 0), 0.25);
        Assert.Equal(2, across.At(across.Grid.Columns / 2, across.Grid.Rows / 2).Length);
    }

    [Fact]
    public void Any_body_along_any_direction_keeps_within_the_bound_of_the_grid() =>
        Gen.Select(RandomBodies.Bumpy, RandomBodies.Direction, RandomBodies.Direction, Gen.Double[0.2, 2]).Sample((body, turn, d, spacing) =>
        {
            var mesh = body.TurnedTo(turn).Plus(Shapes.Box(new(60, 0, 0), new(75, 12, 9)));
            var columns = MeshColumns.Cast(mesh, d, spacing);
            Assert.Equal(mesh.Volume(), columns.Volume_mm3, Math.Sqrt(2) * spacing * mesh.Area());
            Assert.Equal(mesh.Volume(), columns.Volume_mm3, 0.05 * mesh.Volume());
        }, iter: 60);

    [Fact]
    public void Intervals_ascend_and_end_on_the_skin_of_a_ball() =>
        RandomBodies.Direction.Sample(d =>
        {
            // Chords of 200 to the turn: sagitta 10 (1 − cos(π/200)) = 1.2e-3.
            var columns = MeshColumns.Cast(Shapes.Sphere(10, 200, 100), d, 0.7);
            for (var row = 0; row < columns.Grid.Rows; row++)
                for (var column = 0; column < columns.Grid.Columns; column++)
                    foreach (var i in columns.At(column, row))
                    {
                        var p = columns.Grid.Centre(column, row);
                        Assert.True(i.Length > 0);
                        Assert.Equal(10, columns.Frame.ToSpace(new(p.X, p.Y, i.Low)).Length, 3e-3);
                        Assert.Equal(10, columns.Frame.ToSpace(new(p.X, p.Y, i.High)).Length, 3e-3);
                    }
        }, iter: 10);

    [Fact]
    public void The_order_of_the_facets_does_not_matter() =>
        Gen.Select(RandomBodies.Bumpy, RandomBodies.Direction, Gen.Int[0, int.MaxValue]).Sample((body, d, seed) =>
        {
            var shuffled = body.Facets.ToArray();
            new Random(seed).Shuffle(shuffled);
            var (one, other) = (MeshColumns.Cast(body, d, 0.9), MeshColumns.Cast(new(body.Vertices, [.. shuffled]), d, 0.9));
            Assert.Equal(one.Volume_mm3, other.Volume_mm3);
            for (var row = 0; row < one.Grid.Rows; row++)
                for (var column = 0; column < one.Grid.Columns; column++)
                    Assert.Equal(one.At(column, row).ToArray(), other.At(column, row).ToArray());
        }, iter: 30);

    [Fact]
    public void Shells_that_overlap_are_solid_once_and_a_void_is_none()
    {
        var overlapping = Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(0, 0, 5));
        Assert.Equal(1500, MeshColumns.Cast(overlapping, Up, 1).Volume_mm3, 1e-9);
        var hollow = Shapes.Cube(10).Plus(Shapes.Box(new(2, 2, 3), new(8, 8, 7)).Reversed());
        var columns = MeshColumns.Cast(hollow, Up, 1);
        Assert.Equal([new(0, 3), new(7, 10)], columns.At(5, 5).ToArray());
        Assert.Equal(1000 - (36 * 4), columns.Volume_mm3, 1e-9);
    }

    [Fact]
    public void Stacked_bodies_that_touch_are_one_interval() =>
        Assert.Equal([new(0, 20)], MeshColumns.Cast(Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(0, 0, 10)), Up, 1).At(3, 4).ToArray());

    [Fact]
    public void Meshes_that_bound_nothing_are_refused()
    {
        Assert.Throws<ArgumentException>(() => MeshColumns.Cast(Shapes.Cube(10).WithFacets(f => f.RemoveAt(2)), Up, 1));
        Assert.Throws<ArgumentException>(() => MeshColumns.Cast(Shapes.Cube(10).WithFacets(f => f.SetItem(2, new(f[2].A, f[2].C, f[2].B))), Up, 1));
        Assert.Throws<ArgumentException>(() => MeshColumns.Cast(Shapes.Cube(10).Reversed(), Up, 1));
        Assert.Throws<ArgumentException>(() => MeshColumns.Cast(new([], []), Up, 1));
        Assert.Throws<ArgumentException>(() => MeshColumns.Cast(Shapes.Cube(10).Mapped(p => p with { Z = p.Z == 0 ? double.NaN : p.Z }), Up, 1));
        Assert.Throws<ArgumentException>(() => MeshColumns.Cast(Shapes.Cube(10), default, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => MeshColumns.Cast(Shapes.Cube(10), Up, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => MeshColumns.Cast(Shapes.Cube(10), Up, 1e-6));
    }
}
