using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Tests.Moulding;

/// <summary>What counts as a wall that sand touches when the least draft of a body is measured.</summary>
public sealed class LeastDraftTests
{
    // A block of upright walls, 10 x 10 x 5.
    private static readonly TriangleMesh Block = new(
        [new(0, 0, 0), new(10, 0, 0), new(10, 10, 0), new(0, 10, 0), new(0, 0, 5), new(10, 0, 5), new(10, 10, 5), new(0, 10, 5)],
        [
            new(0, 2, 1), new(0, 3, 2), new(4, 5, 6), new(4, 6, 7), new(0, 1, 5), new(0, 5, 4),
            new(1, 2, 6), new(1, 6, 5), new(2, 3, 7), new(2, 7, 6), new(3, 0, 4), new(3, 4, 7),
        ]);

    [Fact]
    public void An_upright_wall_in_the_sand_is_no_draft_at_all()
    {
        var (angle, at) = PlacedHalves.LeastDraft(Block, Block, []);
        Assert.Equal(0, angle);
        Assert.NotNull(at);
    }

    [Fact]
    public void The_walls_of_a_pocket_do_not_count_and_one_that_stands_elsewhere_does()
    {
        UprightPocket Pocket(double width) => new(PlanRegion.Rectangle(default, new Vec2(width, 10)), 5);
        Assert.Equal((Math.PI / 2, null), PlacedHalves.LeastDraft(Block, Block, [Pocket(10)]));
        Assert.Equal(0, PlacedHalves.LeastDraft(Block, Block, [Pocket(9)]).Angle);
    }
}
