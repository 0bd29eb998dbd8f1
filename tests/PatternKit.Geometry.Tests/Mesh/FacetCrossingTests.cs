using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

public class FacetCrossingTests
{
    private static readonly Vec3 A = new(0, 0, 0);
    private static readonly Vec3 B = new(4, 0, 0);
    private static readonly Vec3 C = new(0, 4, 0);

    [Theory]
    [InlineData(1, 1, -1, 1, 1, 1, 9, 9, 0, true, "an edge goes through the face")]
    [InlineData(1, 1, 0, 5, 5, 1, 5, 6, 1, true, "a corner touches the face")]
    [InlineData(2, 0, 0, 2, -1, 1, 3, -1, 1, true, "a corner touches a side")]
    [InlineData(2, -1, 0, 2, 1, 0, 9, -1, 5, true, "a side lies in the face")]
    [InlineData(1, 1, 0, 2, 1, 0, 1, 2, 0, true, "one lies within the other")]
    [InlineData(-9, -9, 0, 20, 0, 0, 0, 20, 0, true, "one lies around the other")]
    [InlineData(3, 3, 0, 9, 3, 0, 3, 9, 0, false, "in one plane, apart")]
    [InlineData(2, 2, 0, 9, 3, 0, 3, 9, 0, true, "in one plane, touching a side in a point")]
    [InlineData(1, 1, 1, 2, 1, 1, 1, 2, 1, false, "above")]
    [InlineData(3, 3, -1, 3, 3, 1, 9, 9, 0, false, "past the long side")]
    public void Facets_without_a_common_corner(double px, double py, double pz, double qx, double qy, double qz, double rx, double ry, double rz, bool cross, string why) =>
        Check(new(px, py, pz), new(qx, qy, qz), new(rx, ry, rz), cross, why);

    [Theory]
    [InlineData(1, 1, -1, 1, 1, 1, true, "the far side goes through the face")]
    [InlineData(-1, -1, 1, -1, -2, 1, false, "only the corner meets")]
    [InlineData(9, 9, 1, 9, 9, -1, true, "the near side is what is cut")]
    [InlineData(-1, -1, 0, -2, -1, 0, false, "in one plane, opposite")]
    [InlineData(1, 2, 0, 2, 1, 0, true, "in one plane, within")]
    [InlineData(8, 0, 0, 8, -1, 1, true, "a side lies on a side and is longer")]
    [InlineData(2, 0, 0, 8, -1, 1, true, "a side lies on a side and is shorter")]
    [InlineData(0, -4, 0, 9, -1, 0, false, "in one plane, beside")]
    public void Facets_with_one_common_corner(double px, double py, double pz, double qx, double qy, double qz, bool cross, string why) =>
        Check(A, new(px, py, pz), new(qx, qy, qz), cross, why);

    [Theory]
    [InlineData(0, -4, 0, false, "flat, apart")]
    [InlineData(0, 4, 1, false, "at an angle")]
    [InlineData(1, 1, 0, true, "folded flat")]
    [InlineData(9, 1, 0, true, "folded flat, leaning out")]
    public void Facets_with_a_common_side(double px, double py, double pz, bool cross, string why) =>
        Check(A, B, new(px, py, pz), cross, why);

    [Fact]
    public void Two_boxes_through_each_other_cross()
    {
        var report = MeshInspection.Inspect(Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(3, 4, 5)));
        Assert.True(report.IsClosed);
        Assert.True(report.CrossingPairs > 0);
        Assert.Equal([MeshDefectKind.CrossingPair], report.Defects.Select(d => d.Kind));
    }

    [Fact]
    public void Two_boxes_that_touch_face_to_face_cross() =>
        Assert.True(MeshInspection.Inspect(Shapes.Cube(10).Plus(Shapes.Cube(4).Shifted(3, 3, 10))).CrossingPairs > 0);

    [Fact]
    public void Two_boxes_a_last_bit_apart_do_not_cross()
    {
        var near = Shapes.Box(new(3, 3, Math.BitIncrement(10.0)), new(7, 7, 14));
        var report = MeshInspection.Inspect(Shapes.Cube(10).Plus(near));
        Assert.True(report.IsValid, report.ToString());
    }

    [Fact]
    public void The_verdict_on_small_whole_coordinates_is_that_of_a_separate_method()
    {
        // Coordinates from a small grid bring every special position.
        var point = Gen.Select(Gen.Int[0, 3], Gen.Int[0, 3], Gen.Int[0, 3], (x, y, z) => new Vec3(x, y, z));
        Gen.Select(point, point, point, point, point, point).Where((a, b, c, d, e, f) =>
                !ExactPredicates.AreCollinear(a, b, c) && !ExactPredicates.AreCollinear(d, e, f)
                && new HashSet<Vec3> { a, b, c, d, e, f }.Count == 6)
            .Sample(
                (a, b, c, d, e, f) => FacetCrossing.Cross(new(a, b, c, 0, 1, 2), new(d, e, f, 3, 4, 5)) == SeparatingAxes.Touch([a, b, c], [d, e, f]),
                iter: 20_000);
    }

    // In all orders of corners and facets, with corners told apart by position.
    private static void Check(Vec3 p, Vec3 q, Vec3 r, bool cross, string why)
    {
        Vec3[] s = [A, B, C];
        Vec3[] t = [p, q, r];
        int[][] orders = [[0, 1, 2], [1, 2, 0], [2, 0, 1], [0, 2, 1], [2, 1, 0], [1, 0, 2]];
        foreach (var i in orders)
            foreach (var j in orders)
            {
                var (f, g) = (With(s[i[0]], s[i[1]], s[i[2]]), With(t[j[0]], t[j[1]], t[j[2]]));
                Assert.True(FacetCrossing.Cross(f, g) == cross, why);
                Assert.True(FacetCrossing.Cross(g, f) == cross, why);
            }
    }

    private static Corners With(Vec3 a, Vec3 b, Vec3 c) => new(a, b, c, Id(a), Id(b), Id(c));

    private static int Id(Vec3 p) => (int)((p.X + 50) + (100 * (p.Y + 50)) + (10_000 * (p.Z + 50)));
}
