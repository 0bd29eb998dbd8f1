using CsCheck;
using NetTopologySuite.Operation.OverlayNG;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Plan;

/// <summary>Unions on a lattice against NetTopologySuite's exact overlay of the same polygons.</summary>
public class LatticeUnionTests
{
    private static readonly Lattice Lattice = Lattice.For(100);

    // Corners on a coarse grid, so that many sides coincide, touch and cross at corners.
    private static readonly Gen<PlanRegion> Rectangle = Gen.Select(Gen.Int[0, 8], Gen.Int[0, 8], Gen.Int[1, 4], Gen.Int[1, 4])
        .Select((x, y, w, h) => PlanRegion.Rectangle(new(x, y), new(x + w, y + h)));

    private static readonly Gen<PlanRegion> Triangle = Gen.Select(Gen.Double[-50, 50], Gen.Double[-50, 50], Gen.Double[2, 40], Gen.Double[0, 6.3])
        .Select((x, y, r, t) => PlanRegion.Polygon([.. new[] { 0, 2.1, 4.0 }.Select(a => new Vec2(x + (r * Math.Cos(t + a)), y + (r * Math.Sin(t + a))))]));

    [Fact]
    public void Regions_whose_sides_coincide_and_touch_have_the_union_of_the_library() => Rectangle.Array[1, 12].Sample(
        regions => AssertSame(regions, 1e-9),
        iter: 500);

    [Fact]
    public void Regions_with_holes_have_the_union_of_the_library() => Gen.Select(Rectangle, Rectangle).Select((a, b) => a.Difference(b)).Array[1, 10].Sample(
        regions => AssertSame(regions, 1e-9),
        iter: 500);

    [Fact]
    public void Regions_anywhere_have_the_union_of_the_library_but_for_rounding() => Triangle.Array[1, 25].Sample(
        // The border moves by a step at most.
        regions => AssertSame(regions, 2 * Lattice.Step * regions.Sum(r => r.Geometry.Length)),
        iter: 200);

    [Fact]
    public void A_union_has_no_vertex_where_one_polygon_ends_inside_another()
    {
        // Both ends of the bar lie inside the squares, next to a long side but not on it.
        var union = PlanRegion.UnionOn(Lattice, [
            PlanRegion.Rectangle(new(0, 0), new(30, 10)),
            PlanRegion.Polygon([new(5, 0.2 * Lattice.Step), new(20, 0.3 * Lattice.Step), new(20, 5), new(5, 5)])]);
        Assert.Equal(4, Assert.Single(union.Rings()).Length);
    }

    [Fact]
    public void Polygons_whose_common_corner_differs_by_rounding_leave_no_notch()
    {
        // Half a step above and below, the corners round to different points.
        double off = 0.5 * Lattice.Step, above = off + 1e-12, below = off - 1e-12;
        var union = PlanRegion.UnionOn(Lattice, [
            PlanRegion.Polygon([new(0, 0), new(10, 0), new(10, 5 + above), new(0, 5)]), PlanRegion.Polygon([new(10, 0), new(20, 0), new(20, 5), new(10, 5 + below)])]);
        Assert.Equal(6, Assert.Single(union.Rings()).Length);
    }

    [Fact]
    public void What_is_narrower_than_a_step_vanishes() => Assert.True(PlanRegion.UnionOn(Lattice, [PlanRegion.Rectangle(new(0, 0), new(10, 0.2 * Lattice.Step))]).IsEmpty);

    [Fact]
    public void Nothing_joined_is_nothing() => Assert.True(PlanRegion.UnionOn(Lattice, [PlanRegion.Empty]).IsEmpty);

    private static void AssertSame(PlanRegion[] regions, double area)
    {
        var union = PlanRegion.UnionOn(Lattice, regions);
        Assert.True(union.Geometry.IsValid);
        Assert.All(union.Rings().SelectMany(r => r), p => Assert.Equal(Lattice.Snap(p), p));
        var expected = OverlayNGRobust.Union(regions.Select(r => r.Geometry));
        Assert.True(union.Geometry.SymmetricDifference(expected).Area <= area);
    }
}
