using PatternKit.Geometry.Grids;

namespace PatternKit.Geometry.Tests.Grids;

/// <summary>Shortest ways in a body, against straight lines and corners.</summary>
public class GridWayTests
{
    [Fact]
    public void Along_a_bar_the_way_is_its_length_and_round_a_corner_that_of_both_legs()
    {
        var grid = Bodies.Boxes(1, Bodies.Box(0, 0, 0, 60, 3, 3), Bodies.Box(57, 0, 0, 60, 40, 3));
        var from = grid.Nearest(new(0.5, 1.5, 1.5));
        var ways = GridWays.From(grid, from, _ => true);
        Assert.Equal(grid.SolidCount, ways.Count);
        Assert.Equal(56.0, ways[grid.Nearest(new(56.5, 1.5, 1.5))], 1e-9);
        // Corners are cut: 58 along and 38 across, less what the diagonal saves within three cells.
        Assert.InRange(ways[grid.Nearest(new(58.5, 39.5, 1.5))], 94, 97);
    }

    [Fact]
    public void What_does_not_count_is_not_passed()
    {
        var grid = Bodies.Boxes(1, Bodies.Box(0, 0, 0, 30, 3, 3));
        var ways = GridWays.From(grid, grid.Nearest(new(0.5, 1.5, 1.5)), c => grid.Middle(c).X < 20);
        Assert.Equal(20 * 9, ways.Count);
        Assert.True(ways.Values.Max() < 21);
    }

    // Steps of 1, √2 and √3 make ways longer by √(1 + (√2 − 1)² + (√3 − √2)²) at most.
    [Fact]
    public void Through_a_plate_ways_are_little_longer_than_straight_lines()
    {
        var grid = Bodies.Boxes(1, Bodies.Box(0, 0, 0, 60, 40, 2));
        var from = grid.Nearest(new(0.5, 0.5, 0.5));
        var ways = GridWays.From(grid, from, _ => true);
        foreach (var (cell, way) in ways)
            Assert.InRange(way, (grid.Middle(cell) - grid.Middle(from)).Length - 1e-9, (1.1281 * (grid.Middle(cell) - grid.Middle(from)).Length) + 1e-9);
    }
}
