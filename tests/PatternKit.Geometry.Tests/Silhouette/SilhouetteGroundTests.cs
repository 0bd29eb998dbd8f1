using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Silhouette;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Geometry.Tests.Silhouette;

/// <summary>Surfaces through a line on a silhouette, against closed forms and the bounds that all functions with a limit of slope keep.</summary>
public class SilhouetteGroundTests
{
    private static readonly double Rise = Math.Tan(10 * Math.PI / 180);

    /// <summary>A rectangle in the plane z = x tan 10°, closely set.</summary>
    private static Vec3[] Leaning() => [.. Around(-40, 40, -10, 10).Select(p => new Vec3(p.X, p.Y, Rise * p.X))];

    [Fact]
    public void Inside_a_line_that_lies_in_a_plane_the_mean_is_that_plane()
    {
        // In a convex line each point has one of the line straight uphill and one straight downhill, and those two decide.
        var (slope, _, _) = HeightExtension.LeastSlope([[.. Leaning()]]);
        Assert.Equal(Rise, slope, 1e-12);
        var mean = new HeightExtension([[.. Leaning()]], slope);
        for (var x = -39.0; x < 40; x += 3.7)
            for (var y = -9.7; y < 10; y += 2.3) Assert.Equal(Rise * x, mean.At(new(x, y)), 2e-4);
    }

    [Fact]
    public void Between_two_level_lines_as_far_apart_as_the_slope_allows_it_is_straight_and_with_more_slope_it_steps_in_the_middle()
    {
        Vec3[] low = [.. Around(-50, 50, -20, -10).Select(p => new Vec3(p.X, p.Y, 0))], high = [.. Around(-50, 50, 10, 20).Select(p => new Vec3(p.X, p.Y, 8))];
        Assert.Equal(8.0 / 20, HeightExtension.LeastSlope([[.. low], [.. high]]).Slope, 1e-9);
        var gentle = new HeightExtension([[.. low], [.. high]], 0.4);
        for (var y = -9.5; y < 10; y++) Assert.Equal(0.4 * (y + 10), gentle.At(new(3, y)), 1e-4);
        // Limit 1: level for (20 − 8) / 2 = 6 mm from either line, 8 mm of rise between (McShane 1934, Whitney 1934, the mean of both).
        var steep = new HeightExtension([[.. low], [.. high]], 1);
        Assert.Equal(0, steep.At(new(3, -4.5)), 1e-4);
        Assert.Equal(4, steep.At(new(3, 0)), 1e-4);
        Assert.Equal(6, steep.At(new(3, 2)), 1e-4);
        Assert.Equal(8, steep.At(new(3, 4.5)), 1e-4);
    }

    [Fact]
    public void The_ground_of_a_leaning_bar_is_the_leaning_plane_within_its_shadow_and_level_at_the_frame()
    {
        var corridor = Lines.Corridor(Lines.Leaning(), 2);
        var line = corridor.Line(0);
        var ground = Lines.Ground(corridor);
        // The taut line is a little flatter than the bar, by the height of its wall.
        var slope = (line[0].Max(v => v.Z) - line[0].Min(v => v.Z)) / 80;
        for (var x = -38.0; x < 39; x += 2.9)
            for (var y = -7.5; y < 8; y += 1.7) Assert.Equal(slope * x, ground.At(new(x, y)).Height, 0.12);
        Assert.True(ground.Steepest().Slope <= 0.5 * 1.101, $"{ground.Steepest().Slope}");
        foreach (var p in Around(ground.LowCorner.X, ground.HighCorner.X, ground.LowCorner.Y, ground.HighCorner.Y)) Assert.Equal(0, ground.At(p).Height, 1e-9);
        Assert.Equal(0, ground.At(new(1000, 3)).Height);
        Assert.True(ground.Range.High <= line[0].Max(v => v.Z) + 0.06 && ground.Range.Low >= line[0].Min(v => v.Z) - 0.06);
    }

    [Fact]
    public void Triangles_keep_to_the_line_within_four_times_the_tolerance()
    {
        foreach (var mesh in new[] { Lines.Arc(), FreeForms.TiltedTorus(64, 32) })
        {
            var corridor = Lines.Corridor(mesh, 2);
            var (line, ground) = (corridor.Line(0, 0.2), Lines.Ground(corridor));
            var off = line.SelectMany(l => l).Select(v => Math.Abs(ground.At(v.Plan).Height - v.Z)).Order().ToArray();
            Assert.True(off[^1] < 0.2 && off[off.Length * 9 / 10] < 0.1, $"{off[^1]}, mostly {off[off.Length * 9 / 10]}");
        }
    }

    [Fact]
    public void Every_point_has_the_height_of_its_triangle_and_seen_from_below_the_negated_one()
    {
        var ground = Lines.Ground(Lines.Corridor(Lines.Arc(), 2));
        var below = ground.Negated();
        foreach (var (a, b, c) in ground.Facets)
        {
            Assert.Equal(a.Z, ground.At(a.Plan).Height, 1e-9);
            var p = (0.2 * a) + (0.5 * b) + (0.3 * c);
            Assert.Equal(p.Z, ground.At(p.Plan).Height, 1e-6);
            Assert.Equal(-p.Z, below.At(p.Plan).Height, 1e-6);
            Assert.Equal(FreeForms.Lattice.Snap(a.Z), a.Z);
        }
    }

    private static IEnumerable<Vec2> Around(double left, double right, double low, double high)
    {
        const int parts = 200;
        Vec2[] corners = [new(left, low), new(right, low), new(right, high), new(left, high)];
        for (var i = 0; i < 4; i++)
            for (var j = 0; j < parts; j++) yield return corners[i] + ((double)j / parts * (corners[(i + 1) % 4] - corners[i]));
    }
}
