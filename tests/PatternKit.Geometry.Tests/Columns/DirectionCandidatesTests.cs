using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Columns;

public class DirectionCandidatesTests
{
    private const double Degree = Math.PI / 180;

    [Fact]
    public void The_spread_is_even_in_area_and_keeps_its_distance()
    {
        // A cap of height h about z holds the share h of the half-sphere. Nearest neighbours of the golden lattice: √(2π/n) · about 0.9 (González 2010, fig. 3).
        var points = DirectionCandidates.EvenSpread(400).ToArray();
        Assert.All(points, p => Assert.Equal(1, p.Length, 12));
        Assert.All(new[] { 0.1, 0.25, 0.5, 0.9 }, h => Assert.Equal(400 * h, points.Count(p => p.Z > 1 - h), 1.0));
        var nearest = points.Select(p => points.Where(q => q != p).Min(q => (q - p).Length)).ToArray();
        Assert.True(nearest.Min() > 0.6 * Math.Sqrt(2 * Math.PI / 400), $"{nearest.Min()}");

        // Opposites count as the same, so nothing on the sphere is far from all of them.
        RandomBodies.Direction.Sample(d => Assert.True(points.Max(p => Math.Abs(Vec3.Dot(p, d))) > Math.Cos(1.3 * Math.Sqrt(2 * Math.PI / 400))), iter: 500);
    }

    [Fact]
    public void The_faces_of_a_turned_box_come_first_by_area() =>
        RandomBodies.Direction.Sample(turn =>
        {
            var found = DirectionCandidates.Of(Shapes.Box(default, new(30, 20, 10)).TurnedTo(turn), 40, 2 * Degree);
            var frame = DirectionFrame.Along(turn);
            Vec3[] sides = [frame.ToSpace(new(0, 0, 1)), frame.ToSpace(new(0, 1, 0)), frame.ToSpace(new(1, 0, 0))];
            Assert.Equal(Enumerable.Repeat(DirectionSource.FlatFace, 3), found.Take(3).Select(c => c.Source));
            for (var i = 0; i < 3; i++) Assert.Equal(1, Math.Abs(Vec3.Dot(sides[i], found[i].Direction)), 1e-12);

            // The principal axes are those of the faces.
            Assert.DoesNotContain(found, c => c.Source == DirectionSource.PrincipalAxis);
            for (var i = 0; i < found.Length; i++)
                for (var j = 0; j < i; j++)
                    Assert.True(Math.Abs(Vec3.Dot(found[i].Direction, found[j].Direction)) <= Math.Cos(2 * Degree));
        }, iter: 40);

    [Fact]
    public void A_flat_face_that_a_scan_made_rough_is_found_within_a_degree() =>
        Gen.Select(RandomBodies.Direction, Gen.Int[0, 1000]).Sample((turn, seed) =>
        {
            // A plate, its corners shaken by up to 0.03 at facets about 2 wide: normals scatter by about a degree.
            var random = new Random(seed);
            var rough = Lid(40, 2).Mapped(p => p with { Z = p.Z + (0.03 * ((2 * random.NextDouble()) - 1)) });
            var found = FlatNormals.Of(rough.TurnedTo(turn), 3 * Degree, 0.2);
            Assert.True(Math.Abs(Vec3.Dot(found[0].Normal, DirectionFrame.Along(turn).Direction)) > Math.Cos(Degree));
        }, iter: 20);

    [Fact]
    public void A_ball_has_no_flat_face() => Assert.Empty(FlatNormals.Of(Shapes.Sphere(10, 200, 100), Degree, 0.01));

    /// <summary>A level plate of squares, top side alone.</summary>
    private static TriangleMesh Lid(int squares, double size)
    {
        var vertices = Enumerable.Range(0, (squares + 1) * (squares + 1)).Select(i => new Vec3(size * (i % (squares + 1)), size * (i / (squares + 1)), 0));
        var facets = from x in Enumerable.Range(0, squares)
                     from y in Enumerable.Range(0, squares)
                     let a = (y * (squares + 1)) + x
                     from f in new Facet[] { new(a, a + 1, a + squares + 2), new(a, a + squares + 2, a + squares + 1) }
                     select f;
        return new([.. vertices], [.. facets]);
    }
}
