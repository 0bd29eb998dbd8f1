using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Expected values by hand from the entity definitions of the published DXF reference.</summary>
public sealed class DxfEntityTests
{
    private const double QuarterBulge = 0.41421356237309503; // tan(90 degrees / 4)

    [Fact]
    public void A_line_is_an_open_path_of_two_vertices() =>
        DxfSketch.Same(DxfSketch.Only("0 LINE|8 A|10 1|20 2|11 4.5|21 -6"), false, (1, 2, 0), (4.5, -6, 0));

    [Fact]
    public void An_arc_runs_counter_clockwise_from_its_start_angle() =>
        DxfSketch.Same(DxfSketch.Only("0 ARC|8 A|10 10|20 0|40 5|50 0|51 90"), false, (15, 0, QuarterBulge), (10, 5, 0));

    [Fact]
    public void An_arc_may_run_through_the_zero_angle() =>
        DxfSketch.Same(DxfSketch.Only("0 ARC|8 A|10 0|20 0|40 2|50 270|51 90"), false, (0, -2, 1), (0, 2, 0));

    [Fact]
    public void An_arc_of_more_than_half_a_turn_keeps_one_bulge() =>
        DxfSketch.Same(DxfSketch.Only("0 ARC|8 A|10 0|20 0|40 1|50 90|51 0"), false, (0, 1, Math.Tan(Math.PI * 3 / 8)), (1, 0, 0));

    [Fact]
    public void An_arc_of_almost_a_full_turn_is_cut_in_two()
    {
        var path = DxfSketch.Only("0 ARC|8 A|10 0|20 0|40 100|50 1|51 0");
        Assert.Equal(2, path.SegmentCount);
        Assert.Equal(100 * Math.PI * 359 / 180, path.Segment(0).Length + path.Segment(1).Length, 1e-9);
    }

    [Fact]
    public void An_arc_from_0_to_360_is_a_closed_circle() =>
        DxfSketch.Same(DxfSketch.Only("0 ARC|8 A|10 1|20 1|40 3|50 0|51 360"), true, (4, 1, 1), (-2, 1, 1));

    [Fact]
    public void A_circle_is_two_half_turns() =>
        DxfSketch.Same(DxfSketch.Only("0 CIRCLE|8 A|10 3|20 4|30 0|40 2.5"), true, (5.5, 4, 1), (0.5, 4, 1));

    [Fact]
    public void An_ellipse_stays_within_the_tolerance_and_has_the_area_pi_a_b()
    {
        var path = DxfSketch.Only("0 ELLIPSE|8 A|10 5|20 -3|11 30|21 40|31 0|40 0.3|41 0|42 6.283185307179586");
        Assert.True(path.IsClosed);
        // a = 50 along (0.6, 0.8), b = 15.
        var farthest = DxfSketch.Farthest(path, p => EllipseDistance(p - new Vec2(5, -3), new(0.6, 0.8), 50, 15));
        Assert.InRange(farthest, 0, 0.001);
        Assert.Equal(Math.PI * 50 * 15, path.SignedArea(), 0.001 * 220);
        Assert.InRange(path.Vertices.Length, 8, 120);
    }

    [Fact]
    public void A_half_ellipse_begins_and_ends_where_its_parameters_say()
    {
        var path = DxfSketch.Only("0 ELLIPSE|8 A|10 0|20 0|11 20|21 0|31 0|40 0.5|41 0|42 3.141592653589793");
        Assert.False(path.IsClosed);
        Assert.True(Vec2.Distance(path.Vertices[0].Point, new(20, 0)) < 1e-12);
        Assert.True(Vec2.Distance(path.Vertices[^1].Point, new(-20, 0)) < 1e-12);
        Assert.InRange(DxfSketch.Distance(path, new(0, 10)), 0, 0.001);
    }

    [Fact]
    public void An_ellipse_seen_from_behind_runs_the_other_way()
    {
        // N = (0, 0, -1): the minor axis N x major is (0, -10), so a quarter runs from (20, 0) to (0, -10).
        var path = DxfSketch.Only("0 ELLIPSE|8 A|10 0|20 0|11 20|21 0|31 0|40 0.5|41 0|42 1.5707963267948966|210 0|220 0|230 -1");
        Assert.True(Vec2.Distance(path.Vertices[0].Point, new(20, 0)) < 1e-12);
        Assert.True(Vec2.Distance(path.Vertices[^1].Point, new(0, -10)) < 1e-12);
    }

    [Fact]
    public void An_ellipse_of_ratio_one_is_a_true_circle() =>
        DxfSketch.Same(DxfSketch.Only("0 ELLIPSE|8 A|10 0|20 0|11 3|21 0|31 0|40 1"), true, (3, 0, 1), (-3, 0, 1));

    [Fact]
    public void A_light_polyline_keeps_its_bulges_that_of_the_closing_vertex_too() =>
        DxfSketch.Same(
            DxfSketch.Only("0 LWPOLYLINE|8 A|90 3|70 1|10 0|20 0|42 0.5|10 10|20 0|10 10|20 10|42 -0.25"),
            true, (0, 0, 0.5), (10, 0, 0), (10, 10, -0.25));

    [Fact]
    public void A_half_turn_bulge_has_the_radius_of_half_its_chord()
    {
        var arc = DxfSketch.Only("0 LWPOLYLINE|8 A|90 2|70 0|10 0|20 0|42 1|10 8|20 0").Segment(0);
        Assert.Equal(4, arc.Radius, 1e-12);
        Assert.Equal(4, arc.Centre.X, 1e-12);
    }

    [Fact]
    public void A_heavy_polyline_reads_its_vertices_up_to_the_end_of_sequence() =>
        DxfSketch.Same(
            DxfSketch.Only("0 POLYLINE|8 A|66 1|70 1|0 VERTEX|8 A|10 0|20 0|0 VERTEX|8 A|10 4|20 0|42 1|0 VERTEX|8 A|10 4|20 4|0 SEQEND"),
            true, (0, 0, 0), (4, 0, 1), (4, 4, 0));

    [Fact]
    public void A_spline_fitted_polyline_passes_over_the_points_of_its_frame() =>
        DxfSketch.Same(
            DxfSketch.Only("0 POLYLINE|8 A|66 1|70 4|0 VERTEX|8 A|10 9|20 9|70 16|0 VERTEX|8 A|10 0|20 0|70 8|0 VERTEX|8 A|10 1|20 2|70 8|0 SEQEND"),
            false, (0, 0, 0), (1, 2, 0));

    [Fact]
    public void A_curve_fitted_polyline_keeps_the_vertices_that_were_added() =>
        DxfSketch.Same(
            DxfSketch.Only("0 POLYLINE|8 A|66 1|70 2|0 VERTEX|8 A|10 0|20 0|42 0.1|0 VERTEX|8 A|10 1|20 2|70 1|42 0.2|0 VERTEX|8 A|10 3|20 2|0 SEQEND"),
            false, (0, 0, 0.1), (1, 2, 0.2), (3, 2, 0));

    [Fact]
    public void A_polyline_in_space_that_lies_flat_is_read()
    {
        var result = DxfSketch.Read(DxfSketch.File("0 POLYLINE|8 A|66 1|70 8|0 VERTEX|8 A|10 0|20 0|30 5|70 32|0 VERTEX|8 A|10 7|20 1|30 5|70 32|0 SEQEND"));
        DxfSketch.Same(Assert.Single(result.Value.Curves).Path, false, (0, 0, 0), (7, 1, 0));
        Assert.Contains(result.Notes, n => n.Text.Contains("height 0", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("0 POLYLINE|8 A|66 1|70 8|0 VERTEX|8 A|10 0|20 0|30 0|70 32|0 VERTEX|8 A|10 7|20 1|30 5|70 32|0 SEQEND", "1 POLYLINE not read: it is a polyline in space that climbs")]
    [InlineData("0 POLYLINE|8 A|66 1|70 16|71 2|72 2|0 VERTEX|8 A|10 0|20 0|70 64|0 VERTEX|8 A|10 7|20 1|70 64|0 SEQEND", "1 POLYLINE not read: it is a mesh")]
    [InlineData("0 POLYLINE|8 A|66 1|70 64|0 VERTEX|8 A|10 0|20 0|70 192|0 SEQEND", "1 POLYLINE not read: it is a mesh")]
    [InlineData("0 LINE|8 A|10 0|20 0|30 0|11 1|21 0|31 1", "1 LINE not read: it climbs out of the plan")]
    [InlineData("0 CIRCLE|8 A|10 0|20 0|40 1|210 1|220 0|230 0", "1 CIRCLE not read: it is tilted")]
    [InlineData("0 ELLIPSE|8 A|10 0|20 0|11 0|21 1|31 1|40 0.5|210 1|220 0|230 0", "1 ELLIPSE not read: it is tilted")]
    [InlineData("0 CIRCLE|8 A|10 0|20 0|40 0", "radius")]
    [InlineData("0 TEXT|8 A|10 0|20 0|40 1|1 note|0 TEXT|8 A|1 more|0 HATCH|8 A|0 3DSOLID|8 A", "2 TEXT not read: only curves are (first at line")]
    public void What_is_not_read_is_listed(string entities, string expected)
    {
        var result = DxfSketch.Read(DxfSketch.File(entities));
        Assert.Empty(result.Value.Curves);
        Assert.Contains(result.Notes, n => n.Text.Contains(expected, StringComparison.Ordinal) && n.Line > 0);
    }

    [Fact]
    public void Groups_of_applications_are_not_taken_for_coordinates() =>
        DxfSketch.Same(
            DxfSketch.Only("0 LINE|102 {OTHER|10 99|102 }|8 A|10 1|20 2|11 3|21 4|1001 OTHER|1010 7|1020 7"),
            false, (1, 2, 0), (3, 4, 0));

    [Fact]
    public void The_line_of_a_curve_is_that_of_its_entity()
    {
        var text = DxfSketch.File("0 LINE|8 A|10 1|20 2|11 3|21 4|0 CIRCLE|8 B|10 0|20 0|40 1");
        var lines = text.Split('\n');
        foreach (var (curve, type) in DxfSketch.Read(text).Value.Curves.Zip(["LINE", "CIRCLE"])) Assert.Equal(type, lines[curve.Line - 1]);
    }

    /// <summary>Distance of a point from an ellipse about the origin, by dense sampling of its parameter.</summary>
    private static double EllipseDistance(Vec2 p, Vec2 axis, double a, double b)
    {
        double At(double t) => Vec2.Distance(p, (a * Math.Cos(t) * axis) + (b * Math.Sin(t) * axis.Left));
        var best = Math.Atan2(Vec2.Dot(p, axis.Left) / b, Vec2.Dot(p, axis) / a);
        for (var step = 0.05; step > 1e-12; step /= 2)
            for (var move = true; move;)
            {
                move = false;
                if (At(best + step) < At(best)) (best, move) = (best + step, true);
                else if (At(best - step) < At(best)) (best, move) = (best - step, true);
            }

        return At(best);
    }
}
