using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Inserted blocks and object coordinates; expected places by hand.</summary>
public sealed class DxfBlockTests
{
    private const double QuarterBulge = 0.41421356237309503;
    private const string Block = "0 BLOCK|8 0|2 LUG|70 0|10 1|20 1|30 0|3 LUG|0 LINE|8 0|10 1|20 1|11 4|21 1|0 ARC|8 EDGE|10 1|20 1|40 2|50 0|51 90|0 ENDBLK|8 0";

    [Fact]
    public void The_base_point_of_a_block_comes_to_the_insertion_point()
    {
        var curves = DxfSketch.Read(DxfSketch.File("0 INSERT|8 PLAN|2 LUG|10 10|20 20", Block)).Value.Curves;
        DxfSketch.Same(curves[0].Path, false, (10, 20, 0), (13, 20, 0));
        DxfSketch.Same(curves[1].Path, false, (12, 20, QuarterBulge), (10, 22, 0));
    }

    [Fact]
    public void Layer_0_of_a_block_is_the_layer_of_the_insert()
    {
        var drawing = DxfSketch.Read(DxfSketch.File("0 INSERT|8 PLAN|2 lug|10 0|20 0", Block)).Value;
        Assert.Equal(["PLAN", "EDGE"], drawing.Layers);
    }

    [Fact]
    public void A_turned_and_scaled_insert_keeps_true_arcs()
    {
        var curves = DxfSketch.Read(DxfSketch.File("0 INSERT|8 0|2 LUG|10 10|20 0|41 2|42 2|43 2|50 90", Block)).Value.Curves;
        DxfSketch.Same(curves[0].Path, false, (10, 0, 0), (10, 6, 0));
        DxfSketch.Same(curves[1].Path, false, (10, 4, QuarterBulge), (6, 0, 0));
    }

    [Fact]
    public void A_mirrored_insert_turns_arcs_round()
    {
        var curves = DxfSketch.Read(DxfSketch.File("0 INSERT|8 0|2 LUG|10 0|20 0|41 -1|42 1", Block)).Value.Curves;
        DxfSketch.Same(curves[0].Path, false, (0, 0, 0), (-3, 0, 0));
        DxfSketch.Same(curves[1].Path, false, (-2, 0, -QuarterBulge), (0, 2, 0));
    }

    [Fact]
    public void An_unequal_scale_turns_an_arc_into_a_piece_of_an_ellipse()
    {
        var path = DxfSketch.Read(DxfSketch.File("0 INSERT|8 0|2 LUG|10 0|20 0|41 3|42 1", Block)).Value.Curves[1].Path;
        Assert.True(Vec2.Distance(path.Vertices[0].Point, new(6, 0)) < 1e-12);
        Assert.True(Vec2.Distance(path.Vertices[^1].Point, new(0, 2)) < 1e-12);
        for (var i = 0; i <= 20; i++)
        {
            var (s, c) = Math.SinCos(Math.PI / 40 * i);
            Assert.InRange(DxfSketch.Distance(path, new(6 * c, 2 * s)), 0, 0.001);
        }
    }

    [Fact]
    public void An_unequal_scale_turns_a_bulge_into_a_piece_of_an_ellipse_either_way_round()
    {
        const string slot = "0 BLOCK|2 SLOT|10 0|20 0|0 LWPOLYLINE|8 0|90 4|70 1|10 0|20 0|10 4|20 0|42 1|10 4|20 2|10 0|20 2|42 -1|0 ENDBLK";
        var path = DxfSketch.Read(DxfSketch.File("0 INSERT|8 0|2 SLOT|10 0|20 0|41 1|42 5", slot)).Value.Curves[0].Path;
        // Half ellipses of radii 1 and 5: one added on the right, one cut out on the left.
        Assert.Equal(40, path.SignedArea(), 0.02);
        Assert.InRange(DxfSketch.Distance(path, new(5, 5)), 0, 0.001);
        Assert.InRange(DxfSketch.Distance(path, new(1, 5)), 0, 0.001);
    }

    [Fact]
    public void Rows_and_columns_repeat_the_block_on_a_turned_grid()
    {
        var curves = DxfSketch.Read(DxfSketch.File("0 INSERT|8 0|2 PIN|10 100|20 0|50 90|70 3|71 2|44 10|45 7", "0 BLOCK|2 PIN|10 0|20 0|0 CIRCLE|8 0|10 0|20 0|40 1|0 ENDBLK")).Value.Curves;
        var centres = curves.Select(c => c.Path.Segment(0).Centre).ToList();
        Assert.Equal(6, centres.Count);
        foreach (var expected in (Vec2[])[new(100, 0), new(100, 10), new(100, 20), new(93, 0), new(93, 10), new(93, 20)])
            Assert.Contains(centres, c => Vec2.Distance(c, expected) < 1e-12);
    }

    [Fact]
    public void Nested_inserts_compose()
    {
        const string outer = "|0 BLOCK|2 PAIR|10 0|20 0|0 INSERT|8 0|2 LUG|10 5|20 0|50 90|0 INSERT|8 0|2 LUG|10 5|20 0|41 -1|0 ENDBLK";
        var curves = DxfSketch.Read(DxfSketch.File("0 INSERT|8 TOP|2 PAIR|10 100|20 100|41 2|42 2|50 180", Block + outer)).Value.Curves;
        // Inner: (0,0)-(3,0) turned to (5,0)-(5,3), then doubled and turned by half a turn about (100, 100).
        DxfSketch.Same(curves[0].Path, false, (90, 100, 0), (90, 94, 0));
        DxfSketch.Same(curves[2].Path, false, (90, 100, 0), (96, 100, 0));
        Assert.Equal("TOP", curves[0].Layer);
    }

    [Fact]
    public void A_block_inside_itself_is_refused()
    {
        const string loop = "0 BLOCK|2 A|10 0|20 0|0 INSERT|2 B|10 0|20 0|0 ENDBLK|0 BLOCK|2 B|10 0|20 0|0 INSERT|2 a|10 0|20 0|0 ENDBLK";
        Assert.Contains("inside itself", DxfSketch.Refused(DxfSketch.File("0 INSERT|2 A|10 0|20 0", loop)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Blocks_that_multiply_beyond_measure_are_refused_in_time()
    {
        var blocks = string.Join('|', Enumerable.Range(0, 30).Select(i =>
            $"0 BLOCK|2 B{i}|10 0|20 0|0 INSERT|2 B{i + 1}|10 0|20 0|70 10|44 1|0 INSERT|2 B{i + 1}|10 0|20 0|0 ENDBLK"));
        Assert.Contains("entities", DxfSketch.Refused(DxfSketch.File("0 INSERT|2 B0|10 0|20 0", blocks)).Message, StringComparison.Ordinal);
        Assert.Contains("entities", DxfSketch.Refused(DxfSketch.File("0 INSERT|2 LUG|10 0|20 0|70 2147483647|71 2147483647", Block)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0 INSERT|8 0|2 GONE|10 0|20 0", "no block 'GONE'")]
    [InlineData("0 INSERT|8 0|2 LUG|10 0|20 0|41 0", "scale is zero")]
    public void An_insert_that_shows_nothing_is_noted(string insert, string expected)
    {
        var result = DxfSketch.Read(DxfSketch.File(insert, Block));
        Assert.Empty(result.Value.Curves);
        Assert.Contains(result.Notes, n => n.Text.Contains(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void A_direction_of_minus_z_mirrors_x_of_circles_arcs_and_polylines_but_not_of_lines()
    {
        const string down = "|210 0|220 0|230 -1";
        DxfSketch.Same(DxfSketch.Only("0 CIRCLE|8 0|10 5|20 2|40 1" + down), true, (-4, 2, 1), (-6, 2, 1));
        DxfSketch.Same(DxfSketch.Only("0 ARC|8 0|10 5|20 0|40 1|50 0|51 90" + down), false, (-6, 0, -QuarterBulge), (-5, 1, 0));
        DxfSketch.Same(DxfSketch.Only("0 LWPOLYLINE|8 0|90 2|70 0|10 1|20 0|42 0.5|10 3|20 0" + down), false, (-1, 0, -0.5), (-3, 0, 0));
        DxfSketch.Same(DxfSketch.Only("0 LINE|8 0|10 1|20 0|11 3|21 0" + down), false, (1, 0, 0), (3, 0, 0));
    }

    [Fact]
    public void An_insert_in_the_direction_of_minus_z_mirrors_what_it_holds()
    {
        var curves = DxfSketch.Read(DxfSketch.File("0 INSERT|8 0|2 LUG|10 10|20 0|50 90|210 0|220 0|230 -1", Block)).Value.Curves;
        // In object coordinates the line runs (10, 0)-(10, 3); seen from behind x changes its sign.
        DxfSketch.Same(curves[0].Path, false, (-10, 0, 0), (-10, 3, 0));
    }

    [Fact]
    public void A_direction_close_to_z_but_not_in_it_counts_as_tilted()
    {
        // 1/64 rule of the arbitrary axis algorithm apart, half a degree is no plan.
        var result = DxfSketch.Read(DxfSketch.File("0 CIRCLE|8 0|10 5|20 2|40 1|210 0.01|220 0|230 1"));
        Assert.Contains(result.Notes, n => n.Text.Contains("tilted", StringComparison.Ordinal));
    }

    [Fact]
    public void A_direction_of_length_zero_is_refused() =>
        Assert.Contains("length zero", DxfSketch.Refused(DxfSketch.File("0 CIRCLE|8 0|10 5|20 2|40 1|210 0|220 0|230 0")).Message, StringComparison.Ordinal);
}
