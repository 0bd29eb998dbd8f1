using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Plan;

/// <summary>Corners against closed forms: a corner that turns by τ holds r² (tan(τ/2) − τ/2) between both tangents and the arc.</summary>
public sealed class InsideCornersTests
{
    private const double Chord = 0.001;

    [Fact]
    public void A_sharp_corner_is_found_with_its_place_turn_and_fill() =>
        Gen.Select(Gen.Double[50, 120], Gen.Double[-10, 10], Gen.Double[-10, 10], Gen.Double[0, 360], Gen.Double[1, 4]).Sample((turn, x, y, heading, radius) =>
        {
            var corner = Assert.Single(InsideCorners.Of(Notched(turn, new(x, y), heading, 0), radius, Chord));
            var tau = turn * Math.PI / 180;
            Assert.True(Vec2.Distance(new(x, y), corner.At) < 1e-6);
            Assert.Equal(tau, corner.Turn, 1e-6);
            var expected = radius * radius * (Math.Tan(tau / 2) - (tau / 2));
            Assert.InRange(corner.Fill.Area, expected - (2 * Chord * radius * tau), expected + (2 * Chord * radius * tau));
            Assert.InRange(corner.Rounding, 0, 0.2 * radius);
        }, iter: 200);

    [Fact]
    public void A_rounded_corner_tells_its_radius() =>
        Gen.Select(Gen.Double[0.3, 0.9], Gen.Double[1, 4], Gen.Double[0, 360], Gen.Double[-10, 10]).Sample((part, radius, heading, x) =>
            Assert.Equal(part * radius, Assert.Single(InsideCorners.Of(Notched(90, new(x, 4), heading, part * radius), radius, Chord)).Rounding, 0.05 * radius));

    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    public void A_corner_rounder_than_the_radius_is_none(double rounding) =>
        Assert.Empty(InsideCorners.Of(Notched(90, new(3, 4), 20, rounding), 2, Chord));

    [Fact]
    public void A_rectangle_a_round_hole_and_a_slot_have_no_inside_corner_of_their_outline()
    {
        Assert.Empty(InsideCorners.Of(PlanRegion.Rectangle(new(0, 0), new(50, 30)), 3, Chord));
        Assert.Empty(InsideCorners.Of(PlanRegion.EvenOdd([PlanPath.Circle(default, 40), PlanPath.Circle(default, 10)], Chord), 3, Chord));
        // A slit that the disc cannot enter is narrow, not square.
        Assert.Empty(InsideCorners.Of(PlanRegion.Rectangle(new(0, 0), new(50, 30)).Difference(PlanRegion.Rectangle(new(20, 10), new(22, 40))), 3, Chord));
    }

    [Fact]
    public void A_square_hole_has_four() =>
        Assert.Equal(4, InsideCorners.Of(PlanRegion.Rectangle(new(0, 0), new(50, 30)).Difference(PlanRegion.Rectangle(new(15, 8), new(35, 22))), 3, Chord).Count());

    /// <summary>A disc of metal with a wedge cut out whose tip is a corner that turns by an angle, rounded by an arc.</summary>
    private static PlanRegion Notched(double turnDegrees, Vec2 tip, double headingDegrees, double rounding)
    {
        var open = Math.PI - (turnDegrees * Math.PI / 180);
        Vec2 Ray(double angle) => tip + (80 * new Vec2(Math.Cos(angle), Math.Sin(angle)));
        var heading = headingDegrees * Math.PI / 180;
        var wedge = PlanRegion.Polygon([tip, Ray(heading - (open / 2)), Ray(heading + (open / 2))]);
        if (rounding > 0) wedge = wedge.Offset(-rounding, Chord).Offset(rounding, Chord);
        return PlanRegion.EvenOdd([PlanPath.Circle(default, 80)], Chord).Difference(wedge);
    }
}
