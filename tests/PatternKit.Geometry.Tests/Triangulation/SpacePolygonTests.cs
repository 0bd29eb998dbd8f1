using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Tests.Triangulation;

public class SpacePolygonTests
{
    private static readonly Gen<Vec3> Direction = Gen.Select(Gen.Int[-9, 9], Gen.Int[-9, 9], Gen.Int[-9, 9], (x, y, z) => new Vec3(x, y, z));

    // Whole numbers all through, so that the polygon lies exactly in its plane. Corners in order of angle make a star-shaped
    // polygon, concave as a rule; several on one ray are in mid-edge or worse, so one is kept.
    private static readonly Gen<Vec2[]> Stars = Gen.Select(Gen.Int[-50, 50], Gen.Int[-50, 50], (x, y) => new Vec2(x, y)).Array[4, 60].Select(points =>
        points.Where(p => p != default).DistinctBy(p => Math.Atan2(p.Y, p.X)).OrderBy(p => Math.Atan2(p.Y, p.X)).ToArray());

    [Fact]
    public void Triangles_of_a_plane_polygon_all_face_its_way_and_fill_its_area() =>
        Gen.Select(Stars, Direction, Direction).Where((star, u, v) => Vec3.Cross(u, v) != default && SurroundsOrigin(star)).Sample((star, u, v) =>
        {
            var corners = star.Select(p => (p.X * u) + (p.Y * v)).ToArray();
            var cut = SpacePolygon.Triangulate(corners);
            Assert.True(cut.IsClean);
            Assert.Equal(corners.Length - 2, cut.Facets.Length);
            var unit = Vec3.Cross(u, v);
            double sum = 0;
            foreach (var f in cut.Facets)
            {
                var twice = Vec3.Dot(unit, Vec3.Cross(corners[f.B] - corners[f.A], corners[f.C] - corners[f.A]));
                Assert.True(twice > 0);
                sum += twice;
            }

            // Gauss' area formula; every term is a whole number.
            double area = 0;
            for (var i = 0; i < star.Length; i++) area += Vec2.Cross(star[i], star[(i + 1) % star.Length]);
            Assert.Equal(area * Vec3.Dot(unit, unit), sum);
        }, iter: 3000);

    [Fact]
    public void Corners_in_mid_edge_leave_no_triangle_without_area()
    {
        // A square with nine corners along each side.
        var corners = new List<Vec3>();
        for (var i = 0; i < 10; i++) corners.Add(new(i, 0, 5));
        for (var i = 0; i < 10; i++) corners.Add(new(10, i, 5));
        for (var i = 0; i < 10; i++) corners.Add(new(10 - i, 10, 5));
        for (var i = 0; i < 10; i++) corners.Add(new(0, 10 - i, 5));
        AssertFills(corners.ToArray(), 100);
    }

    [Fact]
    public void A_seam_walked_there_and_back_reaches_a_hole() => AssertFills(
        [
            new(0, 0, 0), new(9, 0, 0), new(9, 9, 0), new(0, 9, 0), new(0, 0, 0),
            new(3, 3, 0), new(3, 6, 0), new(6, 6, 0), new(6, 3, 0), new(3, 3, 0),
        ], 81 - 9);

    [Fact]
    public void A_spiral_is_filled()
    {
        var corners = new List<Vec3>();
        for (var i = 0; i < 200; i++) corners.Add(Spiral(i, 10));
        for (var i = 199; i >= 0; i--) corners.Add(Spiral(i, 9));
        double area = 0;
        for (var i = 0; i < corners.Count; i++) area += Vec2.Cross(corners[i].Plan, corners[(i + 1) % corners.Count].Plan) / 2;
        AssertFills(corners.ToArray(), area);

        static Vec3 Spiral(int i, double start)
        {
            var (s, c) = Math.SinCos(i * 0.15);
            return new((start + (i * 0.15)) * c, (start + (i * 0.15)) * s, 0);
        }
    }

    [Fact]
    public void A_polygon_that_crosses_itself_or_has_no_area_is_told_and_keeps_its_border()
    {
        var bow = SpacePolygon.Triangulate([new(0, 0, 0), new(2, 1, 0), new(2, 0, 0), new(0, 1, 0), new(-1, 3, 0)]);
        Assert.False(bow.IsClean);
        Assert.Equal(3, bow.Facets.Length);
        Assert.False(SpacePolygon.Triangulate([new(0, 0, 0), new(1, 1, 1), new(2, 2, 2), new(3, 3, 3)]).IsClean);
        Assert.Throws<ArgumentException>(() => SpacePolygon.Triangulate([new(0, 0, 0), new(1, 1, 1)]));
    }

    [Fact]
    public void Any_corners_give_triangles_with_the_polygon_as_their_border() =>
        Gen.Select(Gen.Int[-3, 3], Gen.Int[-3, 3], Gen.Int[-3, 3], (x, y, z) => new Vec3(x, y, z)).Array[4, 40].Sample(corners =>
        {
            var sides = new Dictionary<(int, int), int>();
            foreach (var f in SpacePolygon.Triangulate(corners).Facets)
                foreach (var (a, b) in new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) })
                {
                    sides[(a, b)] = sides.GetValueOrDefault((a, b)) + 1;
                    sides[(b, a)] = sides.GetValueOrDefault((b, a)) - 1;
                }

            for (var i = 0; i < corners.Length; i++)
                for (var j = 0; j < corners.Length; j++)
                {
                    var border = j == (i + 1) % corners.Length ? 1 : i == (j + 1) % corners.Length ? -1 : 0;
                    Assert.Equal(border, sides.GetValueOrDefault((i, j)));
                }
        }, iter: 500);

    private static bool SurroundsOrigin(Vec2[] star)
    {
        if (star.Length < 4) return false;
        for (var i = 0; i < star.Length; i++)
            if (Vec2.Cross(star[i], star[(i + 1) % star.Length]) <= 0) return false;
        return true;
    }

    private static void AssertFills(Vec3[] corners, double area)
    {
        var cut = SpacePolygon.Triangulate(corners);
        Assert.True(cut.IsClean);
        double sum = 0;
        foreach (var f in cut.Facets)
        {
            var twice = Vec2.Cross(corners[f.B].Plan - corners[f.A].Plan, corners[f.C].Plan - corners[f.A].Plan);
            Assert.True(twice > 0);
            sum += twice / 2;
        }

        Assert.Equal(area, sum, 9);
    }
}
