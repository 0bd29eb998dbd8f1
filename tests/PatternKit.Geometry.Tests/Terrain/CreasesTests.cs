using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Creases of drafted terrains against what plane geometry says of them.</summary>
public class CreasesTests
{
    private static readonly double Run = 10 * Math.Tan(3 * Math.PI / 180);

    [Fact]
    public void The_valley_of_an_inside_corner_runs_along_its_bisector()
    {
        // An L of height 10 with its inside corner at (20, 20): both ramps fall away from it and meet on the diagonal, up to the top.
        var creases = TerrainBuild.Terrain(
            [new Prism(PlanRegion.Polygon([new(0, 0), new(40, 0), new(40, 20), new(20, 20), new(20, 40), new(0, 40)]), 0, 10)], 3, 0.01).Creases();
        var valley = Assert.Single(creases, c => Near(c.From, new(20, 20)) || Near(c.To, new(20, 20)));
        var foot = Near(valley.From, new(20, 20)) ? valley.To : valley.From;
        Assert.Equal(20 + Run, foot.X, 6);
        Assert.Equal(20 + Run, foot.Y, 6);
    }

    [Fact]
    public void A_crease_ends_where_a_higher_body_hides_it()
    {
        // Two blocks, the right one higher and standing in the left one's end corner rays.
        Prism[] blocks = [new(PlanRegion.Rectangle(new(0, 0), new(20, 10)), 0, 10), new(PlanRegion.Rectangle(new(20, -10), new(40, 20)), 0, 15)];
        var creases = TerrainBuild.Terrain(blocks, 3, 0.01).Creases();
        // Where the low block's long wall runs into the high one, ramps meet in a valley from (20 − …, 0) at height 10 down to the ground.
        var higherRun = 15 * Math.Tan(3 * Math.PI / 180);
        var valley = Assert.Single(creases, c => Near(c.From, new(20 - higherRun, -Run)) || Near(c.To, new(20 - higherRun, -Run)));
        var top = Near(valley.From, new(20 - higherRun, -Run)) ? valley.To : valley.From;
        Assert.Equal(20 - (higherRun - Run), top.X, 6);
        Assert.Equal(0, top.Y, 6);
    }

    [Fact]
    public void Every_crease_lies_on_the_terrain()
    {
        Prism[] parts =
        [
            new(PlanRegion.Rectangle(new(-35, -25), new(35, 25)), 0, 6),
            new(TerrainBuild.Circle(24, new(5, 3), 48), 0, 18),
            new(PlanRegion.Rectangle(new(-30, -4), new(10, 4)), 0, 13),
            new(TerrainBuild.Circle(9, new(5, 3), 24), 0, 25, true),
        ];
        var terrain = TerrainBuild.Terrain(parts, 2, 0.01);
        var creases = terrain.Creases();
        Assert.True(creases.Length > 72);
        foreach (var (from, to) in creases)
        {
            var across = 1e-4 * (to - from).Left.Normalized();
            var middle = 0.5 * (from + to);
            var (left, right) = (terrain.At(middle + across), terrain.At(middle - across));
            Assert.NotEqual(left.Surface, right.Surface);
            Assert.Equal(terrain.At(middle).Height, terrain.Extended(left.Surface, middle, out _), 6);
            Assert.Equal(terrain.At(middle).Height, terrain.Extended(right.Surface, middle, out _), 6);
        }
    }

    private static bool Near(Vec2 p, Vec2 q) => Vec2.Distance(p, q) < 1e-6;
}
