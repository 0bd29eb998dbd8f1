using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Columns;

/// <summary>Bodies of revolution as columns, against Pappus's theorem and textbook volumes.</summary>
public class TurnedBodyTests
{
    private static readonly double Step = Lattice.For(127).Step;

    public static TheoryData<TurnedAxis> Axes => [TurnedAxis.X, TurnedAxis.Y, TurnedAxis.Z];

    [Theory]
    [MemberData(nameof(Axes))]
    public void Straight_profiles_have_the_volume_of_the_true_body(TurnedAxis axis)
    {
        // A hollow hub with a conical end: π (R² − b²) l, and a frustum.
        PlanPath hub = PlanPath.Polygon(new Vec2(0, 6), new(20, 6), new(20, 15), new(0, 25));
        var expected = (Math.PI * 20 / 3 * ((15.0 * 15) + (15 * 25) + (25 * 25))) - (Math.PI * 36 * 20);
        AssertRelative(expected, Volume([hub], axis, new(3, -4, 5)), 1e-5);
    }

    [Theory]
    [MemberData(nameof(Axes))]
    public void A_sphere_and_a_ring_have_theirs(TurnedAxis axis)
    {
        PlanPath ball = new([new(new(20, 0), 1), new(new(-20, 0))], true);
        AssertRelative(4 * Math.PI * 8000 / 3, Volume([ball], axis, default), 1e-4);
        AssertRelative(2 * Math.PI * 30 * Math.PI * 64, Volume([PlanPath.Circle(new(0, 30), 16)], axis, default), 1e-4);
    }

    [Theory]
    [MemberData(nameof(Axes))]
    public void A_hole_in_a_profile_is_hollow(TurnedAxis axis)
    {
        var (outer, inner) = (Box(-10, 10, 30), Box(-5, 12, 20));
        AssertRelative(Math.PI * ((900 - 100) * 20 - (400 - 144) * 10), Volume([outer, inner], axis, default), 1e-5);

        static PlanPath Box(double x, double low, double high) => PlanPath.Polygon(new Vec2(x, low), new(-x, low), new(-x, high), new(x, high));
    }

    [Fact]
    public void A_plate_that_cuts_a_roller_shares_its_metal_with_it()
    {
        // Roller of radius 20 along x, 40 long, and a plate to z = 12 as wide as the roller is long and wider than its diameter.
        var roller = TurnedBody.Prisms(TurnedBody.Profile([PlanPath.Polygon(new Vec2(-20, 0), new(20, 0), new(20, 20), new(-20, 20))], 0.01), TurnedAxis.X, default, 0.01);
        var plate = new Prism(PlanRegion.Rectangle(new(-20, -30), new(20, 30)), -20, 12);
        var map = ColumnMapBuilder.Build([.. roller, plate], Step);
        // Above the plate a circular segment is left: R² acos(h / R) − h √(R² − h²).
        var segment = (400 * Math.Acos(0.6)) - (12 * 16);
        AssertRelative((40 * 60 * 32) + (40 * segment), map.Volume, 1e-5);
        Assert.Equal(20, map.Box.High.Z, 0.01);
    }

    [Fact]
    public void A_map_is_cut_where_its_slopes_pass_a_height()
    {
        var map = ColumnMapBuilder.Build(
            TurnedBody.Prisms(TurnedBody.Profile([PlanPath.Polygon(new Vec2(0, 0), new(20, 0), new(0, 20))], 0.01), TurnedAxis.Z, default, 0.01), Step);
        var cut = map.CutAt(8, Step);
        AssertRelative(map.Volume, cut.Volume, 1e-7);
        // The cone above z = 8: radius 12, height 12.
        AssertRelative(Math.PI * 144 * 12 / 3, cut.Cells.Sum(c => c.Region.Area * Math.Max(0, c.High - 8)), 1e-5);
    }

    private static double Volume(IReadOnlyList<PlanPath> profile, TurnedAxis axis, Vec3 at) =>
        ColumnMapBuilder.Build(TurnedBody.Prisms(TurnedBody.Profile(profile, 0.01), axis, at, 0.01), Step).Volume;

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
