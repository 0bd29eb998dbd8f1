using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

public class MeshInspectionTests
{
    [Fact]
    public void A_cube_is_valid_and_its_volume_is_the_product_of_its_sides()
    {
        var report = MeshInspection.Inspect(Shapes.Cube(10));
        Assert.True(report.IsValid, report.ToString());
        Assert.Equal(1000, report.Volume_mm3, 12);
        Assert.Equal((1, 0, 0), (report.Shells, report.NegativeShells, report.DuplicateVertices));
        Assert.EndsWith("valid.", report.ToString());
    }

    [Fact]
    public void An_empty_mesh_is_not_valid()
    {
        var report = MeshInspection.Inspect(new([], []));
        Assert.False(report.IsValid);
        Assert.EndsWith("empty.", report.ToString());
    }

    [Fact]
    public void A_missing_facet_leaves_three_boundary_edges() =>
        Only(Shapes.Cube(10).WithFacets(f => f.RemoveAt(4)), (MeshDefectKind.BoundaryEdge, 3));

    [Fact]
    public void A_turned_facet_leaves_three_inconsistent_edges() =>
        Only(Shapes.Cube(10).WithFacets(f => f.SetItem(4, new(f[4].A, f[4].C, f[4].B))), (MeshDefectKind.InconsistentEdge, 3));

    [Fact]
    public void A_mesh_turned_inside_out_is_one_misoriented_shell()
    {
        var report = Only(Shapes.Cube(10).Reversed(), (MeshDefectKind.MisorientedShell, 1));
        Assert.Equal(1, report.NegativeShells);
    }

    [Fact]
    public void Two_cubes_on_one_edge_welded_over_use_that_edge() =>
        Only(Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(10, 10, 0)).Welded(), (MeshDefectKind.OverusedEdge, 1));

    [Fact]
    public void Two_cubes_on_one_edge_not_welded_have_a_coincident_edge()
    {
        var report = Only(Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(10, 10, 0)), (MeshDefectKind.CoincidentEdge, 1));
        Assert.Equal(2, report.DuplicateVertices);
        Assert.Equal(new Vec3(10, 10, 5), report.Defects[0].First);
    }

    [Fact]
    public void Two_cubes_on_one_corner_welded_pinch_that_vertex()
    {
        var report = Only(Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(10, 10, 10)).Welded(), (MeshDefectKind.PinchedVertex, 1));
        Assert.Equal(new Vec3(10, 10, 10), report.Defects[0].First);
        Assert.Equal(2, report.Shells);
    }

    [Fact]
    public void A_pinch_that_is_copied_per_fan_is_valid()
    {
        var welded = Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(10, 10, 10)).Welded();
        var report = MeshInspection.Inspect(MeshBuilder.SeparatePinches(welded));
        Assert.True(report.IsValid, report.ToString());
        Assert.Equal((16, 1), (report.Vertices, report.DuplicateVertices));
    }

    [Fact]
    public void An_idle_vertex_is_unused()
    {
        var cube = Shapes.Cube(10);
        Only(new(cube.Vertices.Add(new(50, 0, 0)), cube.Facets), (MeshDefectKind.UnusedVertex, 1));
    }

    [Fact]
    public void A_facet_that_names_a_vertex_twice_is_degenerate_and_nothing_else() =>
        Only(Shapes.Cube(10).WithFacets(f => f.Add(new(0, 0, 6))), (MeshDefectKind.DegenerateFacet, 1));

    [Fact]
    public void A_facet_on_one_line_is_degenerate_and_its_neighbours_touch_along_it()
    {
        // The diagonal 4-6 of the top gets its middle as a vertex on one side of a facet without area only.
        var cube = Shapes.Cube(10);
        var report = MeshInspection.Inspect(new(
            cube.Vertices.Add(new(5, 5, 10)),
            cube.Facets.RemoveRange([new(4, 5, 6)]).AddRange(new(4, 5, 8), new(8, 5, 6), new(4, 8, 6))));
        Assert.True(report.IsClosed, report.ToString());
        Assert.Equal(1, report.DegenerateFacets);
        Assert.Equal(2, report.CrossingPairs); // 4-6-7 lies against half its diagonal twice, over no common edge
        Assert.Equal(2, report.Defects.Length);
    }

    [Fact]
    public void A_facet_thinner_than_any_tolerance_but_not_on_a_line_is_not_degenerate()
    {
        var thin = new Vec3(5, Math.BitIncrement(5), 10);
        var cube = Shapes.Cube(10);
        var report = MeshInspection.Inspect(new(
            cube.Vertices.Add(thin),
            cube.Facets.RemoveRange([new(4, 6, 7)]).AddRange(new(4, 6, 8), new(4, 8, 7), new(8, 6, 7))));
        Assert.True(report.IsValid, report.ToString());
    }

    [Fact]
    public void A_facet_given_twice_is_a_duplicate_that_over_uses_its_edges() =>
        Only(Shapes.Cube(10).WithFacets(f => f.Add(f[3])), (MeshDefectKind.DuplicateFacet, 1), (MeshDefectKind.OverusedEdge, 3));

    [Fact]
    public void A_leaf_of_two_facets_back_to_back_is_a_duplicate_without_volume() =>
        Only(
            new([new(0, 0, 0), new(1, 0, 0), new(0, 1, 0)], [new(0, 1, 2), new(0, 2, 1)]),
            (MeshDefectKind.DuplicateFacet, 1),
            (MeshDefectKind.MisorientedShell, 1));

    [Fact]
    public void A_coordinate_that_is_no_number_is_named()
    {
        var cube = Shapes.Cube(10);
        Only(new(cube.Vertices.SetItem(3, new(0, double.NaN, 0)), cube.Facets), (MeshDefectKind.NonFiniteVertex, 1));
    }

    [Fact]
    public void A_void_is_a_negative_shell_and_valid()
    {
        var hollow = Shapes.Cube(10).Plus(Shapes.Box(new(2, 2, 2), new(4, 4, 4)).Reversed());
        var report = MeshInspection.Inspect(hollow);
        Assert.True(report.IsValid, report.ToString());
        Assert.Equal((2, 1), (report.Shells, report.NegativeShells));
        Assert.Equal(992, report.Volume_mm3, 9);
    }

    [Fact]
    public void A_body_inside_a_void_is_valid_and_a_void_in_the_open_or_metal_in_metal_is_not()
    {
        var hollow = Shapes.Cube(10).Plus(Shapes.Box(new(2, 2, 2), new(8, 8, 8)).Reversed());
        Assert.True(MeshInspection.Inspect(hollow.Plus(Shapes.Box(new(4, 4, 4), new(6, 6, 6)))).IsValid);
        Only(Shapes.Cube(10).Plus(Shapes.Cube(5).Shifted(20, 0, 0).Reversed()), (MeshDefectKind.MisorientedShell, 1));
        Only(Shapes.Cube(10).Plus(Shapes.Cube(5).Shifted(1, 1, 1)), (MeshDefectKind.MisorientedShell, 1));
    }

    [Fact]
    public void The_paragraph_names_count_and_place()
    {
        var text = MeshInspection.Inspect(Shapes.Cube(10).WithFacets(f => f.RemoveAt(4))).ToString();
        Assert.Contains("BoundaryEdge 3, first at (5, 0, 0), facet 0", text);
    }

    [Fact]
    public void Four_times_the_facets_need_about_four_times_the_pair_tests()
    {
        static int Pairs(TriangleMesh mesh)
        {
            var boxes = mesh.Facets.Select(f => Box3.Empty.With(mesh.Vertices[f.A]).With(mesh.Vertices[f.B]).With(mesh.Vertices[f.C])).ToArray();
            var count = 0;
            new FacetTree(boxes, [.. Enumerable.Range(0, boxes.Length)]).MeetingPairs((_, _) => ++count > 0);
            return count;
        }

        var (small, large) = (Pairs(Shapes.Torus(50, 20, 100, 50)), Pairs(Shapes.Torus(50, 20, 200, 100)));
        Assert.InRange((double)large / small, 3.5, 4.5);
    }

    private static MeshReport Only(TriangleMesh mesh, params (MeshDefectKind Kind, int Count)[] expected)
    {
        var report = MeshInspection.Inspect(mesh);
        Assert.False(report.IsValid);
        Assert.Equal(expected.Order(), report.Defects.Select(d => (d.Kind, d.Count)).Order());
        return report;
    }
}
