using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.Dxf;

public sealed class DxfSplineTests
{
    private const string BezierKnots = "40 0|40 0|40 0|40 0|40 1|40 1|40 1|40 1";

    [Fact]
    public void A_cubic_of_one_span_is_the_Bezier_curve_of_its_points()
    {
        var path = DxfSketch.Only($"0 SPLINE|8 A|70 8|71 3|72 8|73 4|{BezierKnots}|10 0|20 0|30 0|10 10|20 30|30 0|10 40|20 -20|30 0|10 50|20 10|30 0");
        Assert.False(path.IsClosed);
        // Bernstein form of the cubic Bezier curve.
        for (var i = 0; i <= 50; i++)
        {
            double t = i / 50.0, s = 1 - t;
            var p = (3 * s * s * t * new Vec2(10, 30)) + (3 * s * t * t * new Vec2(40, -20)) + (t * t * t * new Vec2(50, 10));
            Assert.InRange(DxfSketch.Distance(path, p), 0, 0.001);
        }
    }

    [Fact]
    public void A_rational_spline_can_be_an_exact_circle()
    {
        // Nine-point circle: Piegl and Tiller, The NURBS Book, example 7.2 (square-based form).
        const string w = "0.7071067811865476";
        var path = DxfSketch.Only(
            "0 SPLINE|8 A|70 13|71 2|72 12|73 9|40 0|40 0|40 0|40 1|40 1|40 2|40 2|40 3|40 3|40 4|40 4|40 4|"
            + $"41 1|41 {w}|41 1|41 {w}|41 1|41 {w}|41 1|41 {w}|41 1|"
            + "10 20|20 0|30 0|10 20|20 20|30 0|10 0|20 20|30 0|10 -20|20 20|30 0|10 -20|20 0|30 0|10 -20|20 -20|30 0|10 0|20 -20|30 0|10 20|20 -20|30 0|10 20|20 0|30 0");
        Assert.True(path.IsClosed);
        Assert.InRange(DxfSketch.Farthest(path, p => Math.Abs(p.Length - 20)), 0, 1e-6);
        Assert.Equal(Math.PI * 400, path.SignedArea(), 1e-3);
    }

    [Theory]
    [InlineData("")]
    [InlineData("40 0|40 1|40 2|40 3|40 4|40 5|40 6|40 7|40 8|40 9|40 10|")]
    public void A_periodic_spline_whose_points_are_not_repeated_is_closed_smoothly(string knots)
    {
        // Uniform closed cubic on the corners of a square; at a knot it passes (P0 + 4 P1 + P2) / 6 (The NURBS Book, section 9.2).
        var path = DxfSketch.Only($"0 SPLINE|8 A|70 3|71 3|{knots}10 12|20 0|30 0|10 0|20 12|30 0|10 -12|20 0|30 0|10 0|20 -12|30 0");
        Assert.True(path.IsClosed);
        foreach (var p in (Vec2[])[new(8, 0), new(0, 8), new(-8, 0), new(0, -8)]) Assert.InRange(DxfSketch.Distance(path, p), 0, 1e-6);
    }

    [Fact]
    public void A_spline_of_degree_one_is_its_polygon() =>
        DxfSketch.Same(
            DxfSketch.Only("0 SPLINE|8 A|71 1|40 0|40 0|40 1|40 1|10 0|20 0|30 0|10 5|20 2|30 0") is { } p ? new([p.Vertices[0], p.Vertices[^1]], false) : null!,
            false, (0, 0, 0), (5, 2, 0));

    [Fact]
    public void A_spline_of_fit_points_passes_through_them()
    {
        var path = DxfSketch.Only("0 SPLINE|8 A|70 8|71 3|74 4|11 0|21 0|31 0|11 10|21 8|31 0|11 25|21 -3|31 0|11 40|21 0|31 0");
        foreach (var p in (Vec2[])[new(0, 0), new(10, 8), new(25, -3), new(40, 0)]) Assert.InRange(DxfSketch.Distance(path, p), 0, 1e-6);
    }

    [Fact]
    public void Fit_points_on_a_circle_closed_give_nearly_that_circle()
    {
        // The periodic cubic through n points of a circle errs by O(h^4) (de Boor, A Practical Guide to Splines); 24 points, r = 50.
        var points = string.Join('|', Enumerable.Range(0, 24).Select(i => $"11 {DxfSketch.Number(50 * Math.Cos(i * Math.PI / 12))}|21 {DxfSketch.Number(50 * Math.Sin(i * Math.PI / 12))}|31 0"));
        var path = DxfSketch.Only("0 SPLINE|8 A|70 1|71 3|74 24|" + points);
        Assert.True(path.IsClosed);
        Assert.InRange(DxfSketch.Farthest(path, p => Math.Abs(p.Length - 50)), 0, 0.003);
    }

    [Theory]
    [InlineData("71 3|40 0|40 0|40 1|10 0|20 0|30 0|10 1|20 0|30 0|10 1|20 1|30 0|10 3|20 3|30 0", "knots")]
    [InlineData("71 3|" + BezierKnots + "|41 1|41 1|41 0|41 1|10 0|20 0|30 0|10 1|20 0|30 0|10 1|20 1|30 0|10 3|20 3|30 0", "weight")]
    [InlineData("71 3|40 0|40 0|40 0|40 2|40 1|40 1|40 1|40 1|10 0|20 0|30 0|10 1|20 0|30 0|10 1|20 1|30 0|10 3|20 3|30 0", "ascend")]
    [InlineData("71 2000000000|10 0|20 0|30 0", "degree")]
    [InlineData("71 3|10 0|20 0|30 0|10 1|20 1|30 0", "control points")]
    public void A_spline_that_does_not_add_up_is_refused(string groups, string expected)
    {
        var refused = DxfSketch.Refused(DxfSketch.File("0 SPLINE|8 A|" + groups));
        Assert.Contains(expected, refused.Message, StringComparison.Ordinal);
        Assert.Contains("bracket.dxf, line ", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_arcs_of_a_fitted_spline_run_smoothly_into_each_other()
    {
        var path = DxfSketch.Only($"0 SPLINE|8 A|70 8|71 3|{BezierKnots}|10 0|20 0|30 0|10 10|20 30|30 0|10 40|20 30|30 0|10 50|20 0|30 0");
        for (var i = 0; i + 1 < path.SegmentCount; i++)
        {
            var (a, b) = (path.Segment(i), path.Segment(i + 1));
            var end = Angle(a.End - a.Start) + (a.Sweep / 2);
            var start = Angle(b.End - b.Start) - (b.Sweep / 2);
            Assert.InRange(Math.Abs(Math.IEEERemainder(end - start, 2 * Math.PI)), 0, 1e-6);
        }

        static double Angle(Vec2 v) => Math.Atan2(v.Y, v.X);
    }

    [Theory]
    [InlineData("1e-300")]
    [InlineData("-1e-200")]
    public void Fit_points_that_differ_by_less_than_any_digit_are_one_point(string y)
    {
        var path = DxfSketch.Only($"0 SPLINE|8 A|70 0|71 3|74 3|11 0|21 0|31 0|11 0|21 {y}|31 0|11 9|21 0|31 0");
        DxfSketch.Same(path, false, (0, 0, 0), (4.5, 0, 0), (9, 0, 0));
    }

    [Theory]
    [InlineData("0 INSERT|8 A|2 P|10 0|20 0|41 1e9", "11 9|21 0|31 0|11 9|21 1e9|31 0")]
    [InlineData("0 INSERT|8 A|2 P|10 0|20 0|41 1e9|42 1e9", "12 1|22 1e9|32 0|11 9|21 0|31 0|11 9|21 5|31 0")]
    public void A_spline_that_reaches_beyond_every_drawing_is_refused_with_its_line(string insert, string points) =>
        Assert.Contains("lies farther out than a drawing can reach", DxfSketch.Refused(DxfSketch.File(insert,
            $"0 BLOCK|2 P|70 0|10 0|20 0|0 SPLINE|8 A|70 0|71 3|74 3|{points}|0 ENDBLK")).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("42 1e8")]
    [InlineData("42 1e-300")]
    public void An_arc_of_an_absurd_bulge_is_refused_or_as_good_as_straight(string bulge)
    {
        var text = DxfSketch.File($"0 LWPOLYLINE|8 A|90 2|70 0|10 0|20 0|{bulge}|10 90|20 0");
        if (bulge == "42 1e8") Assert.Contains("lies farther out", DxfSketch.Refused(text).Message, StringComparison.Ordinal);
        else Assert.All(DxfSketch.Read(text).Value.Curves[0].Path.Flatten(0.001), p => Assert.True(Math.Abs(p.Y) < 1e-9));
    }
}
