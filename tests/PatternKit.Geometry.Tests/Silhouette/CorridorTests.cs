using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Silhouette;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Mesh;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Geometry.Tests.Silhouette;

/// <summary>Silhouettes and their walls, and the flattest line through them, against closed forms.</summary>
public class CorridorTests
{
    private const double Degree = Math.PI / 180;

    [Fact]
    public void The_walls_of_a_block_are_as_high_as_it_is_and_its_line_is_level_at_any_height_of_it()
    {
        var corridor = Lines.Corridor(Shapes.Box(new(-10, -6, 2), new(10, 6, 9)), 2);
        Assert.Equal(240, corridor.Shadow.Area, 0.05);
        Assert.All(corridor.Loops.Single(), p => Assert.True(Math.Abs(p.Low - 2) < 0.03 && Math.Abs(p.High - 9) < 0.03, $"{p}"));
        Assert.All(corridor.Line(4.5).Single(), v => Assert.Equal(4.5, v.Z));
        Assert.InRange(corridor.Line(40).Single()[0].Z, 8.97, 9.03);
    }

    [Fact]
    public void A_ball_is_as_wide_as_its_equator_and_its_wall_is_what_is_steeper_than_the_draft()
    {
        const double r = 20;
        var corridor = Lines.Corridor(Shapes.Sphere(r, 240, 120), 2);
        // Between the circles of latitude θ above and below, where the cone of the draft touches: z = ± r sin θ, but for a facet of 1.5°.
        Assert.All(corridor.Loops.Single(), p => Assert.InRange(p.High - p.Low, 2 * r * Math.Tan(Degree), 2 * r * Math.Sin(3.6 * Degree)));
        Assert.Equal(Math.PI * r * r, corridor.Shadow.Area, 0.002 * Math.PI * r * r);
    }

    [Fact]
    public void A_ring_has_a_loop_for_its_hole()
    {
        var corridor = Lines.Corridor(Shapes.Torus(26, 8, 96, 48), 2);
        Assert.Equal(2, corridor.Loops.Length);
        var (low, high) = corridor.Level;
        Assert.True(low < 0 && high > 0, $"{low} to {high}");
        // Area between two circles, of the mesh's polygons.
        Assert.Equal(96 / 2.0 * Math.Sin(2 * Math.PI / 96) * ((34 * 34) - (18 * 18)), corridor.Shadow.Area, 0.1);
    }

    [Fact]
    public void The_line_of_a_leaning_bar_runs_along_its_sides()
    {
        var corridor = Lines.Corridor(Lines.Leaning(), 2);
        Assert.True(corridor.Level.Low > corridor.Level.High);
        var line = corridor.Line(0).Single();
        // Along y = ±8 it lies at z = x tan 10°, within the wall's 8 sin θ, θ = 2° and a facet of 5.6°; it climbs from end to end.
        var off = 8 * Math.Sin(5 * Degree);
        foreach (var v in line.Where(v => Math.Abs(v.Y) > 7.9)) Assert.Equal(v.X * Math.Tan(10 * Degree), v.Z, off);
        Assert.Equal(80 * Math.Tan(10 * Degree), line.Max(v => v.Z) - line.Min(v => v.Z), 2 * off);
        // Level across the upright ends.
        Assert.All(line.Where(v => v.X > 39.999), v => Assert.Equal(40 * Math.Tan(10 * Degree), v.Z, off));
    }

    [Fact]
    public void The_line_of_an_arc_follows_the_arc()
    {
        var line = Lines.Corridor(Lines.Arc(), 2).Line(0).Single();
        Assert.All(line.Where(v => Math.Abs(v.Y) > 6.9), v => Assert.Equal(90 - Math.Sqrt((90 * 90) - (v.X * v.X)), v.Z, 7 * Math.Sin(7.5 * Degree)));
    }

    [Fact]
    public void A_stepped_block_whose_walls_overlap_parts_level_and_one_whose_walls_do_not_is_taut_between_the_steps()
    {
        Assert.InRange(Lines.Corridor(Lines.Stepped(), 2).Level.Low, 7.97, 8.03);
        Assert.InRange(Lines.Corridor(Lines.Stepped(), 2).Level.High, 11.97, 12.03);
        // Walls 0 to 6 on the left and 8 to 14 on the right, joined by one that leans over 10 mm: up from 6 to 8 between the inner corners.
        var apart = TestBodies.Bar(20, (-30, 0), (0, 0), (10, 8), (30, 8), (30, 14), (10, 14), (0, 6), (-30, 6));
        var line = Lines.Corridor(apart, 2).Line(0).Single();
        Assert.Equal(2, line.Max(v => v.Z) - line.Min(v => v.Z), 0.06);
        // The walls let it begin to rise at x = 0 and must be left at x = 10: a fifth.
        Assert.Equal(0.2, HeightExtension.LeastSlope([line]).Slope, 0.01);
    }

    [Fact]
    public void What_the_draft_closes_is_no_hole_to_look_through()
    {
        // Walls 10 high round a slit 0.3 wide: at 2° its four drafted walls meet half way if it is narrower than 10 tan θ = 0.35, at 1° than 0.17.
        var frame = Shapes.Box(new(-10, -6, 0), new(-0.15, 6, 10)).Plus(Shapes.Box(new(0.15, -6, 0), new(10, 6, 10)))
            .Plus(Shapes.Box(new(-1, -6, 0), new(1, -4, 10))).Plus(Shapes.Box(new(-1, 4, 0), new(1, 6, 10)));
        Assert.Single(Lines.Corridor(frame, 2).Loops);
        Assert.Equal(2, Lines.Corridor(frame, 1).Loops.Length);
    }

    [Fact]
    public void Where_one_limb_hides_another_the_line_climbs_from_one_to_the_other_at_once() =>
        // Head and legs of a body at different heights: the joint of such a line would be a wall.
        Assert.True(HeightExtension.LeastSlope(Lines.Corridor(FreeForms.Animal(40, 24), 2).Line(0)).Slope > 3);

    [Fact]
    public void The_line_lies_on_the_skin_where_the_body_is_strictly_convex()
    {
        // At the height of the line the border of the shadow is a point of the body: of an ellipsoid turned at random, x² + y² / b² + z² / c² = 1.
        Gen.Select(Gen.Double[-0.6, 0.6], Gen.Double[0, 3], Gen.Double[0.4, 1]).Sample((lean, turn, flat) =>
        {
            Vec3 Turned(Vec3 v) => FreeForms.Turned(new(20 * v.X, 14 * v.Y, 14 * flat * v.Z), 0, lean, turn);
            var mesh = Shapes.Sphere(1, 96, 48).Mapped(Turned);
            foreach (var v in Lines.Corridor(mesh, 2, 2).Line(0).Single())
            {
                var p = Back(v, lean, turn);
                var norm = Math.Sqrt(Math.Pow(p.X / 20, 2) + Math.Pow(p.Y / 14, 2) + Math.Pow(p.Z / (14 * flat), 2));
                Assert.InRange(norm, 0.98, 1.005);
            }
        }, iter: 12);

        static Vec3 Back(Vec3 v, double lean, double turn) => FreeForms.Turned(v, -turn, -lean, 0);
    }
}
