using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Columns;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>Facets moved along their normals, against bodies whose offset is known.</summary>
public class FacetOffsetTests
{
    [Fact]
    public void A_box_grows_by_each_face_as_far_as_it_is_moved()
    {
        var box = Shapes.Box(new(1, 2, 3), new(11, 22, 33));
        var moved = FacetOffset.Of(box, [.. box.Facets.Select(f => box.AreaNormal(f) is { Z: > 0 } ? 2.0 : box.AreaNormal(f) is { X: > 0 } ? 0.5 : 0)]);
        Assert.Null(moved.Turned);
        Assert.Equal(new Box3(new(1, 2, 3), new(11.5, 22, 35)), Rounded(moved.Mesh.Bounds()));
        Assert.Equal(10.5 * 20 * 32, moved.Mesh.Volume(), 1e-5);
        // What was not moved lies in its plane still.
        Assert.All(box.Facets.Select((f, i) => (f, i)).Where(x => box.AreaNormal(x.f) is { Z: < 0 }), x => Assert.Equal(0, moved.Least[x.i], 1e-6));
    }

    [Fact]
    public void A_wall_that_leans_is_moved_square_to_itself_and_keeps_its_lean()
    {
        // A wedge 60° at the foot; its sloped side moved by 1 cuts the bottom 1 / sin 60° farther out, and keeps the apex edge's other side.
        var height = 20 * Math.Sqrt(3);
        var wedge = TestBodies.Bar(30, (0, 0), (20, 0), (0, height));
        var moved = FacetOffset.Of(wedge, [.. wedge.Facets.Select(f => wedge.AreaNormal(f) is { X: > 0, Z: > 0 } ? 1.0 : 0)]);
        var foot = 20 + (1 / Math.Sin(Math.PI / 3));
        Assert.Equal(foot * (foot * Math.Sqrt(3)) / 2 * 30, moved.Mesh.Volume(), 1e-4);
    }

    [Fact]
    public void A_ball_grows_all_round_and_never_by_less_than_asked()
    {
        const double r = 20, by = 1.5;
        var ball = Shapes.Sphere(r, 96, 48).Mapped(v => Terrain.FreeForms.Turned(v, 0.3, 0.7, 0.2));
        var moved = FacetOffset.Of(ball, [.. Enumerable.Repeat(by, ball.Facets.Length)]);
        Assert.Null(moved.Turned);
        Assert.All(moved.Least, d => Assert.InRange(d, by * (1 - 1e-6), by * 1.02));
        Assert.Equal(Math.Pow((r + by) / r, 3), moved.Mesh.Volume() / ball.Volume(), 1e-3);
    }

    [Fact]
    public void On_a_smooth_skin_the_faces_named_get_all_of_it_and_those_beside_them_lead_over()
    {
        var ball = Shapes.Sphere(20, 96, 48);
        var isTop = ball.Facets.Select(f => ball.Vertices[f.A].Z > 10 && ball.Vertices[f.B].Z > 10 && ball.Vertices[f.C].Z > 10).ToArray();
        var moved = FacetOffset.Of(ball, [.. isTop.Select(t => t ? 2.0 : 0)]);
        Assert.Null(moved.Turned);
        for (var f = 0; f < isTop.Length; f++)
        {
            if (isTop[f]) Assert.InRange(moved.Least[f], 2 * (1 - 1e-6), 2.05);
            // Far below nothing moves.
            else if (ball.Vertices[ball.Facets[f].A].Z < 5) Assert.Equal(0, moved.Least[f], 1e-9);
        }
    }

    [Fact]
    public void A_bore_that_is_narrower_than_what_is_put_on_its_wall_is_told()
    {
        var ring = Shapes.Torus(10, 6, 64, 32);
        // The hole through it is 4 wide on each side of the middle.
        var wall = ring.Facets.Select(f => Math.Sqrt((ring.Vertices[f.A].X * ring.Vertices[f.A].X) + (ring.Vertices[f.A].Y * ring.Vertices[f.A].Y)) < 7).ToArray();
        Assert.Null(FacetOffset.Of(ring, [.. wall.Select(w => w ? 2.0 : 0)]).Turned);
        Assert.NotNull(FacetOffset.Of(ring, [.. wall.Select(w => w ? 6.0 : 0)]).Turned);
    }

    [Fact]
    public void Distances_that_are_none_are_refused()
    {
        var box = Shapes.Cube(1);
        Assert.Throws<ArgumentException>(() => FacetOffset.Of(box, [1]));
        Assert.Throws<ArgumentException>(() => FacetOffset.Of(box, [.. Enumerable.Repeat(-1.0, 12)]));
        Assert.Throws<ArgumentException>(() => FacetOffset.Of(box, [.. Enumerable.Repeat(double.NaN, 12)]));
    }

    private static Box3 Rounded(Box3 box) => new(Rounded(box.Low), Rounded(box.High));

    private static Vec3 Rounded(Vec3 v) => new(Math.Round(v.X, 6), Math.Round(v.Y, 6), Math.Round(v.Z, 6));
}
