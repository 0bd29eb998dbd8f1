using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Sheets.Curves;

namespace PatternKit.Sheets.Tests;

/// <summary>Checked against the curves that the rings were flattened from: their closed forms are known.</summary>
public sealed class ArcFittingTests
{
    private const double Tolerance = 0.005;

    [Theory]
    [InlineData(0.5)]
    [InlineData(6.3)]
    [InlineData(80)]
    [InlineData(1500)]
    public void A_flattened_circle_is_a_circle_again(double diameter)
    {
        var circle = PlanPath.Circle(new(12.3, -4.5), diameter);
        var path = ArcFitting.Fit([.. circle.Flatten(0.01)], Tolerance);
        Assert.Equal(2, path.SegmentCount);
        Assert.All(path.Vertices, v => Assert.Equal(1, v.Bulge));
        Assert.Equal(diameter / 2, path.Segment(0).Radius, 1e-9);
        Assert.True(Vec2.Distance(new(12.3, -4.5), path.Segment(0).Centre) < 1e-9);
    }

    [Fact]
    public void A_hole_keeps_its_sense()
    {
        var path = ArcFitting.Fit([.. PlanPath.Circle(default, 20).Reversed().Flatten(0.01)], Tolerance);
        Assert.Equal(-100 * Math.PI, path.SignedArea(), 1e-9);
    }

    [Fact]
    public void A_rounded_rectangle_has_four_lines_and_four_arcs_wherever_its_ring_begins()
    {
        var ring = RoundedRectangle(120, 60, 12).Flatten(0.01);
        for (var first = 0; first < ring.Count; first++)
        {
            var path = ArcFitting.Fit([.. ring.Skip(first), .. ring.Take(first)], Tolerance);
            Assert.Equal(8, path.SegmentCount);
            var arcs = Enumerable.Range(0, 8).Select(path.Segment).Where(s => s.IsArc).ToList();
            Assert.Equal(4, arcs.Count);
            Assert.All(arcs, a => Assert.Equal(12, a.Radius, 1e-6));
            Assert.All(arcs, a => Assert.Equal(Math.PI / 2, a.Sweep, 1e-6));
            Assert.Equal((120 * 60) - ((4 - Math.PI) * 144), path.SignedArea(), 1e-6);
        }
    }

    [Theory]
    [InlineData(3)]
    [InlineData(6)]
    [InlineData(8)]
    [InlineData(32)]
    public void A_regular_polygon_stays_a_polygon(int sides)
    {
        var path = ArcFitting.Fit([.. Regular(sides, 50)], Tolerance);
        Assert.Equal(sides, path.SegmentCount);
        Assert.All(path.Vertices, v => Assert.Equal(0, v.Bulge));
    }

    [Fact]
    public void Points_along_a_side_are_left_out()
    {
        ImmutableArray<Vec2> ring = [new(3, 0), new(7, 0), new(10, 0), new(10, 5), new(10, 10), new(4, 10), new(0, 10), new(0, 2), new(0, 0)];
        var path = ArcFitting.Fit(ring, Tolerance);
        Assert.Equal(4, path.SegmentCount);
        Assert.Equal(100, path.SignedArea(), 1e-12);
    }

    [Fact]
    public void An_arc_of_more_than_half_a_turn_is_one_arc()
    {
        // A keyhole: 300 degrees of a circle of radius 10, closed by its chord.
        var path = new PlanPath([new(new(10 * Math.Cos(0.5236), 10 * Math.Sin(0.5236)), Math.Tan(300 * Math.PI / 180 / 4)), new(new(10 * Math.Cos(5.7596), 10 * Math.Sin(5.7596)), 0)], true);
        var fitted = ArcFitting.Fit([.. path.Flatten(0.01)], Tolerance);
        Assert.Equal(2, fitted.SegmentCount);
        Assert.Equal(path.SignedArea(), fitted.SignedArea(), 1e-6);
    }

    [Fact]
    public void Vertices_rounded_to_the_lattice_of_a_body_still_make_arcs()
    {
        var lattice = Lattice.For(200);
        var path = ArcFitting.Fit([.. RoundedRectangle(120, 60, 12).Flatten(0.01).Select(lattice.Snap)], Tolerance);
        Assert.Equal(8, path.SegmentCount);
        Assert.Equal(4, path.Vertices.Count(v => v.Bulge != 0));
    }

    [Fact]
    public void Any_rounded_polygon_is_followed_within_the_tolerance() =>
        Gen.Select(Gen.Int[3, 9], Gen.Double[5, 80], Gen.Double[0.05, 0.95], Gen.Double[0, 6.28]).Sample((sides, radius, share, turn) =>
        {
            var corner = share * radius * Math.Cos(Math.PI / sides);
            var source = Rounded([.. Regular(sides, radius)], corner).Transformed(1, turn, new(17, -5));
            var path = ArcFitting.Fit([.. source.Flatten(0.01)], Tolerance);
            // An arc cut into two chords cannot be told from two lines.
            if (source.Flatten(0.01).Count >= 4 * sides) Assert.Equal(2 * sides, path.SegmentCount);
            Assert.True(Math.Abs(source.SignedArea() - path.SignedArea()) < Tolerance * source.SegmentCount * radius);
            Assert.All(path.Flatten(0.001), p => Assert.True(Distance(source, p) <= Tolerance));
        }, iter: 200);

    [Fact]
    public void Any_ring_is_followed_within_tolerance_and_sagitta() =>
        Gen.Double[0.5, 1.5].Array[6, 60].Sample(radii =>
        {
            ImmutableArray<Vec2> ring = [.. radii.Select((r, i) => 40 * r * new Vec2(Math.Cos(2 * Math.PI * i / radii.Length), Math.Sin(2 * Math.PI * i / radii.Length)))];
            var path = ArcFitting.Fit(ring, Tolerance);
            Assert.All(ring, p => Assert.True(Distance(path, p) <= Tolerance + 1e-9));
            var polygon = PlanPath.Polygon(ring.AsSpan());
            Assert.All(path.Flatten(0.001), p => Assert.True(Distance(polygon, p) <= Tolerance + ArcFitting.LargestSagitta_mm));
        }, iter: 300);

    [Fact]
    public void Two_points_are_no_ring() =>
        Assert.Throws<ArgumentException>(() => ArcFitting.Fit([new(0, 0), new(1, 0)], Tolerance));

    private static PlanPath RoundedRectangle(double width, double height, double corner) =>
        Rounded([new(0, 0), new(width, 0), new(width, height), new(0, height)], corner);

    private static IEnumerable<Vec2> Regular(int sides, double radius) =>
        Enumerable.Range(0, sides).Select(i => radius * new Vec2(Math.Cos(2 * Math.PI * i / sides), Math.Sin(2 * Math.PI * i / sides)));

    // The polygon with every corner replaced by an arc of the radius, tangent to both sides.
    private static PlanPath Rounded(ImmutableArray<Vec2> corners, double radius)
    {
        var vertices = ImmutableArray.CreateBuilder<PlanVertex>();
        for (var i = 0; i < corners.Length; i++)
        {
            var (before, at, after) = (corners[(i + corners.Length - 1) % corners.Length], corners[i], corners[(i + 1) % corners.Length]);
            var (u, v) = ((at - before).Normalized(), (after - at).Normalized());
            var turn = Math.Atan2(Vec2.Cross(u, v), Vec2.Dot(u, v));
            var back = radius * Math.Tan(turn / 2);
            vertices.Add(new(at - (back * u), Math.Tan(turn / 4)));
            vertices.Add(new(at + (back * v)));
        }

        return new(vertices.ToImmutable(), true);
    }

    private static double Distance(PlanPath path, Vec2 p)
    {
        var points = path.Flatten(0.0001);
        return Enumerable.Range(0, points.Count).Min(i =>
        {
            var (a, b) = (points[i], points[(i + 1) % points.Count]);
            var along = b - a;
            var share = along.LengthSquared == 0 ? 0 : Math.Clamp(Vec2.Dot(p - a, along) / along.LengthSquared, 0, 1);
            return Vec2.Distance(p, a + (share * along));
        });
    }
}
