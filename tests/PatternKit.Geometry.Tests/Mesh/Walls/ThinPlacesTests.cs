using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Columns;

namespace PatternKit.Geometry.Tests.Mesh.Walls;

/// <summary>Where bodies are thin: areas and places in closed form.</summary>
public sealed class ThinPlacesTests
{
    [Fact]
    public void A_plate_thinner_than_the_limit_is_one_place_of_its_own_area()
    {
        var place = Assert.Single(Find(Shapes.Box(new(0, 0, 0), new(40, 30, 2)), 3));
        Assert.Equal(2, place.Least_mm, 1e-9);
        Assert.Equal(1200, place.Area_mm2, 1e-6);
        Assert.Equal(1, place.At.Z, 1e-9);
        // Its two large faces, two facets each; the rim is no wall.
        Assert.Equal(4, place.Facets.Length);
        Assert.Empty(Find(Shapes.Box(new(0, 0, 0), new(40, 30, 3)), 3));
        Assert.Empty(Find(Shapes.Box(new(0, 0, 0), new(40, 30, 20)), 3));
    }

    [Fact]
    public void A_ridge_no_higher_than_wide_belongs_to_what_it_stands_on()
    {
        Assert.Empty(Find(Ridged(2, 1.8), 3));
        var rib = Assert.Single(Find(Ridged(2, 15), 3));
        Assert.Equal(2, rib.Least_mm, 1e-9);
        // 60 long and 15 high less about its own width at the foot.
        Assert.InRange(rib.Area_mm2, 60 * 12, 60 * 15);
        Assert.InRange(rib.Box.Low.Z, 10, 12.5);
        Assert.InRange(rib.At.X, 39, 41);
    }

    [Fact]
    public void Of_a_stepped_bar_the_thin_end_is_told()
    {
        var thin = Assert.Single(Find(TestBodies.Bar(20, (0, 0), (100, 0), (100, 2.5), (50, 2.5), (50, 10), (0, 10)), 3));
        Assert.Equal(2.5, thin.Least_mm, 1e-9);
        Assert.InRange(thin.Box.Low.X, 50, 54);
        Assert.InRange(thin.Box.High.X, 98, 100);
    }

    [Fact]
    public void Two_thin_walls_far_apart_are_two_places_the_thinner_first()
    {
        var body = TestBodies.Bar(30, (0, 0), (90, 0), (90, 20), (88.5, 20), (88.5, 8), (2, 8), (2, 20), (0, 20));
        var places = Find(body, 3);
        Assert.Equal([1.5, 2], places.Select(p => Math.Round(p.Least_mm, 9)));
    }

    [Fact]
    public void Cutting_facets_finer_changes_neither_thickness_nor_place()
    {
        var fine = WallThicknessTests.Tube(20, 18, 30, 400);
        var coarse = WallThicknessTests.Tube(20, 18, 30, 64);
        var (a, b) = (Assert.Single(Find(fine, 3)), Assert.Single(Find(coarse, 3)));
        Assert.Equal(2, a.Least_mm, 0.01);
        Assert.Equal(2, b.Least_mm, 0.02);
        // The mean of the outer and the inner circumference times the height.
        Assert.Equal(2 * Math.PI * 19 * 30, a.Area_mm2, 40.0);
        Assert.Equal(2 * Math.PI * 19 * 30, b.Area_mm2, 40.0);
    }

    [Fact]
    public void Points_that_do_not_count_make_no_place()
    {
        var plate = Shapes.Box(new(0, 0, 0), new(40, 30, 2));
        Assert.Empty(ThinPlaces.Of(new(plate), plate, 3, (_, _) => false));
        Assert.Equal(600, Assert.Single(ThinPlaces.Of(new(plate), plate, 3, (p, _) => p.X < 20)).Area_mm2, 20.0);
        // One side that does not count takes the other with it.
        Assert.Empty(ThinPlaces.Of(new(plate), plate, 3, (_, outward) => outward.Z > -0.5));
    }

    private static System.Collections.Immutable.ImmutableArray<ThinPlace> Find(TriangleMesh mesh, double limit) => ThinPlaces.Of(new(mesh), mesh, limit);

    /// <summary>A rib along y on a block 10 thick.</summary>
    private static TriangleMesh Ridged(double width, double height) =>
        TestBodies.Bar(60, (0, 0), (80, 0), (80, 10), (40 + (width / 2), 10), (40 + (width / 2), 10 + height), (40 - (width / 2), 10 + height), (40 - (width / 2), 10), (0, 10));
}
