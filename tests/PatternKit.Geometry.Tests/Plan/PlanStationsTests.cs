using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Plan;

public class PlanStationsTests
{
    private static readonly PlanRegion Frame = PlanRegion.Rectangle(new(0, 0), new(120, 60)).Difference(PlanRegion.Rectangle(new(30, 20), new(90, 40)));

    [Fact]
    public void Places_lie_inside_and_know_their_distance_from_the_border()
    {
        var stations = PlanStations.Over(Frame, 400);
        Assert.InRange(stations.Places.Length, 300, 500);
        foreach (var s in stations.Places)
        {
            Assert.True(Frame.Contains(s.At));
            // Straight sides: the outer rectangle, and the inner one with its corners.
            var outer = Math.Min(Math.Min(s.At.X, 120 - s.At.X), Math.Min(s.At.Y, 60 - s.At.Y));
            var inner = Vec2.Distance(s.At, new(Math.Clamp(s.At.X, 30, 90), Math.Clamp(s.At.Y, 20, 40)));
            Assert.Equal(Math.Min(outer, inner), s.Inside_mm, 1e-9);
        }
    }

    [Fact]
    public void Every_piece_has_a_place_however_small_it_is()
    {
        var both = Frame.Union(PlanRegion.Rectangle(new(200, 0), new(200.5, 0.5)));
        Assert.Contains(PlanStations.Over(both, 100).Places, s => s.At.X > 150);
    }

    // Farther than the distance from all others, and none left out that is: checked one against the other.
    [Theory]
    [InlineData(40)]
    [InlineData(17)]
    public void Spread_places_keep_their_distance_and_leave_no_place_farther(double distance)
    {
        var stations = PlanStations.Over(Frame, 600);
        var from = new Vec2(5, 5);
        Vec2[] all = [from, .. stations.Spread([from], distance)];
        for (var i = 0; i < all.Length; i++)
            for (var j = 0; j < i; j++) Assert.True(Vec2.Distance(all[i], all[j]) > distance);
        Assert.All(stations.Places, s => Assert.True(all.Min(a => Vec2.Distance(a, s.At)) <= distance));
        // The first is the far corner.
        Assert.True(Vec2.Distance(all[1], new(120, 60)) < 2 * stations.Step_mm);
    }
}
