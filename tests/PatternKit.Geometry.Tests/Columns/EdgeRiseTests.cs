using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Columns;

/// <summary>How far the edges of bodies lie off a plane, in closed form.</summary>
public sealed class EdgeRiseTests
{
    [Fact]
    public void A_ball_parts_at_its_equator_and_nowhere_else()
    {
        var ball = Shapes.Sphere(10, 48, 24);
        Assert.Equal((0, 0), Rise(ball, 0));
        Assert.Equal((0, 3), Rise(ball, 3));
        Assert.Equal((4, 0), Rise(ball, -4));
    }

    [Fact]
    public void An_upright_wall_meets_the_plane_anywhere_on_it()
    {
        var block = Shapes.Box(new(0, 0, 0), new(20, 30, 10));
        Assert.Equal((0, 0), Rise(block, 0));
        Assert.Equal((0, 0), Rise(block, 4));
        Assert.Equal((0, 0), Rise(block, 10));
        Assert.Equal((0, 2), Rise(block, 12));
    }

    [Fact]
    public void A_step_of_the_underside_counts_where_it_reaches_the_outside_and_a_hole_through_does_not()
    {
        Assert.Equal((6, 0), Rise(TestBodies.Bar(30, (0, 0), (20, 0), (20, 6), (40, 6), (40, 16), (0, 16)), 0));
        // A tube, bored wider from below: the edge of its bore lies 5 up, inside.
        Assert.Equal((0, 0), Rise(Bored(), 0));
    }

    [Fact]
    public void Turning_the_body_with_the_direction_changes_nothing()
    {
        var body = TestBodies.Bar(30, (0, 0), (20, 0), (20, 6), (40, 6), (40, 16), (0, 16));
        var direction = new Vec3(1, 2, -0.5);
        var turned = body.TurnedTo(direction);
        var rise = EdgeRise.Of(turned, MeshColumns.Cast(turned, direction, 0.2), 0);
        Assert.Equal(6, rise.Above_mm, 1e-9);
        Assert.Equal(0, rise.Below_mm, 1e-9);
    }

    private static (double, double) Rise(TriangleMesh mesh, double plane)
    {
        var rise = EdgeRise.Of(mesh, MeshColumns.Cast(mesh, new(0, 0, 1), 0.2), plane);
        Assert.Equal(rise.At is null, rise is { Above_mm: 0, Below_mm: 0 });
        return (Math.Round(rise.Above_mm, 9), Math.Round(rise.Below_mm, 9));
    }

    /// <summary>Outside 10, bore 4 above z = 5 and 7 below.</summary>
    private static TriangleMesh Bored()
    {
        var facets = new List<(Vec3, Vec3, Vec3)>();
        (double Radius, double Height)[] profile = [(10, 0), (10, 12), (4, 12), (4, 5), (7, 5), (7, 0)];
        const int corners = 40;
        for (var i = 0; i < corners; i++)
            for (var k = 0; k < profile.Length; k++)
            {
                var (p, q) = (profile[k], profile[(k + 1) % profile.Length]);
                Vec3 At((double Radius, double Height) r, int corner) => new(r.Radius * Math.Cos(2 * Math.PI * (corner % corners) / corners), r.Radius * Math.Sin(2 * Math.PI * (corner % corners) / corners), r.Height);
                facets.AddRange([(At(p, i), At(p, i + 1), At(q, i + 1)), (At(p, i), At(q, i + 1), At(q, i))]);
            }

        return MeshBuilder.Weld(facets);
    }
}
