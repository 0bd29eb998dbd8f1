using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Reference;

/// <summary>
/// The oracle against closed forms. Growing a convex polygon of area A and perimeter L by r gives A + L r + π r²
/// (Steiner's formula for parallel bodies; memory: strips along the sides, sectors at the corners); with r = depth · tan(draft)
/// the volume over a depth h is A h + L h² t / 2 + π h³ t² / 3.
/// </summary>
public sealed class OffsetOracleTests
{
    private static readonly double Tangent2 = Math.Tan(2 * Math.PI / 180);

    private static PlanRegion Plate => PlanRegion.Rectangle(new(0, 0), new(100, 60));

    [Fact]
    public void A_drafted_block_has_the_volume_of_the_Steiner_formula() =>
        AssertConvex(PlanRegion.Rectangle(new(0, 0), new(60, 40)), area: 2400, perimeter: 200, height: 20, degrees: 2);

    [Fact]
    public void A_deep_block_with_much_draft_has_the_volume_of_the_Steiner_formula() =>
        AssertConvex(PlanRegion.Rectangle(new(0, 0), new(10, 10)), area: 100, perimeter: 40, height: 50, degrees: 10);

    [Fact]
    public void A_drafted_boss_of_64_sides_has_the_volume_of_the_Steiner_formula()
    {
        var (s, c) = Math.SinCos(Math.PI / 64);
        AssertConvex(PlanRegion.Polygon(ReferencePart.Circle(24, new(70, 30), 64)),
            area: 64 * 144 * s * c, perimeter: 64 * 24 * s, height: 25, degrees: 3);
    }

    [Theory]
    [InlineData(10, 2)] // open at the parting: apothem 4.994, taken at the foot 0.349
    [InlineData(10, 20)] // nearly closed: it would close after 13.72 mm
    [InlineData(30, 15)] // closed after 18.64 mm: a dimple
    public void A_hole_narrows_as_a_pyramid_until_it_closes(double height, double degrees)
    {
        const int Sides = 64;
        var (s, c) = Math.SinCos(Math.PI / Sides);
        var (area, apothem, t) = (Sides * 25 * s * c, 5 * c, Math.Tan(degrees * Math.PI / 180));
        // A regular polygon shrunk by r is itself scaled by 1 - r / apothem.
        var depth = Math.Min(height, apothem / t);
        var left = 1 - (depth * t / apothem);
        var hole = area * apothem / (3 * t) * (1 - (left * left * left));
        var plate = Plate.Difference(PlanRegion.Polygon(ReferencePart.Circle(10, new(50, 30), Sides)));
        AssertVolume(Steiner(6000, 320, height, t) - hole, [new(plate, height)], t, 1e-6);
    }

    [Fact]
    public void A_slot_narrows_by_its_walls_until_they_meet()
    {
        var t = Math.Tan(15 * Math.PI / 180);
        const double Length = 40, Width = 6, Height = 20;
        var d = Width / 2 / t; // 11.2 mm: the slot closes above the parting
        // ∫ (Length - 2 t x)(Width - 2 t x) dx from 0 to d
        var slot = (Length * Width * d) - ((Length + Width) * t * d * d) + (4 * t * t * d * d * d / 3);
        var plate = Plate.Difference(PlanRegion.Rectangle(new(30, 27), new(30 + Length, 27 + Width)));
        AssertVolume(Steiner(6000, 320, Height, t) - slot, [new(plate, Height)], t, 1e-6);
    }

    [Fact]
    public void A_narrow_boss_on_a_plate_stands_as_a_frustum_on_it()
    {
        // The boss's foot, 15 · tan 2° = 0.52 wide, ends on the plate's top, so the volumes add.
        var boss = PlanRegion.Rectangle(new(40, 20), new(60, 40));
        var expected = Steiner(6000, 320, 10, Tangent2) + Steiner(400, 80, 15, Tangent2);
        AssertVolume(expected, [new(Plate, 10), new(boss, 25)], Tangent2, 1e-6);
    }

    [Fact]
    public void Two_walls_lean_together_and_fill_the_gap_between_them()
    {
        // Two long bars 2 mm apart, 40 high, 2°: each wall moves 1.397 mm, so the gap closes at depth 1 / tan 2°.
        const double Height = 40, Long = 200;
        var bars = PlanRegion.Rectangle(new(0, 0), new(10, Long)).Union(PlanRegion.Rectangle(new(12, 0), new(22, Long)));
        var section = new OffsetOracle([new(bars, Height)], Tangent2);
        var depth = 1 / Tangent2;
        Assert.True(section.Contains(new(11, 100), Height - depth - 1e-9));
        Assert.False(section.Contains(new(11, 100), Height - depth + 1e-9));
        // Closed, away from the ends, the two are one bar of width 22 + 2 r.
        var r = (Height - 2) * Tangent2;
        var shorter = PlanRegion.Rectangle(new(0, 0), new(10, Long - 50)).Union(PlanRegion.Rectangle(new(12, 0), new(22, Long - 50)));
        Assert.Equal(50 * (22 + (2 * r)), section.SectionArea(2) - new OffsetOracle([new(shorter, Height)], Tangent2).SectionArea(2), 1e-6);
    }

    [Fact]
    public void The_height_falls_by_the_cotangent_of_the_draft_from_the_nearest_slice()
    {
        var oracle = new OffsetOracle([new(Plate, 10), new(PlanRegion.Rectangle(new(40, 20), new(60, 40)), 25)], Tangent2);
        Assert.Equal(25, oracle.Height(new(50, 30)));
        Assert.Equal(10, oracle.Height(new(5, 5)));
        Assert.Equal(25 - (0.3 / Tangent2), oracle.Height(new(60.3, 30)), 1e-9);
        Assert.Equal(10 - (0.5 / Tangent2), oracle.Height(new(-0.3, -0.4)), 1e-9); // a cone about the corner
    }

    private static double Steiner(double area, double perimeter, double h, double t, double corners = 1) =>
        (area * h) + (perimeter * h * h * t / 2) + (corners * Math.PI * h * h * h * t * t / 3);

    private static void AssertConvex(PlanRegion region, double area, double perimeter, double height, double degrees)
    {
        var t = Math.Tan(degrees * Math.PI / 180);
        // The corner discs are polygons of 4 · 64 sides in the oracle: 1.0e-4 less area. That is the whole difference.
        var disc = Math.Sin(2 * Math.PI / 256) * 256 / (2 * Math.PI);
        AssertVolume(Steiner(area, perimeter, height, t, disc), [new(region, height)], t, 1e-9);
    }

    private static void AssertVolume(double expected_mm3, Slice[] slices, double tangent, double relative) =>
        Assert.Equal(expected_mm3, new OffsetOracle(slices, tangent).VolumeAbove(0), relative * expected_mm3);
}
