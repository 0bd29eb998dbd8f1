using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Grids;

/// <summary>The order in which bodies fill, against volumes in closed form and shortest ways by relaxation.</summary>
public class RisingFloodTests
{
    // A box of 100 × 20 mm with a wall across its middle, 10 mm thick and 40 high: filled on its left floor, the left half fills to the top of the wall before the right floor is
    // wetted, and the right half up to there before any rises above it. All cells: 9 per mm of the floor.
    [Fact]
    public void A_wall_is_not_passed_before_what_is_behind_the_gate_has_risen_to_its_top()
    {
        var grid = Bodies.Boxes(2, Bodies.Box(0, 0, 0, 44, 20, 40), Bodies.Box(56, 0, 0, 100, 20, 40), Bodies.Box(0, 0, 40, 100, 20, 60));
        var flood = Flood(grid, grid.Nearest(new(1, 10, 1)));
        Assert.Equal(grid.SolidCount, flood.Order.Length);
        var wetted = Enumerable.Range(0, flood.Order.Length).First(i => grid.Middle(flood.Order[i]) is var m && m.X > 56 && m.Z < 40);
        // The left half, and the level above it that leads over the wall as far as the first cell beyond.
        var left = 22 * 10 * 20;
        Assert.InRange(wetted, left, left + (50 * 10));
        var risen = Enumerable.Range(0, flood.Order.Length).First(i => grid.Middle(flood.Order[i]).Z > 42);
        Assert.Equal((2 * left) + (50 * 10), risen);
    }

    // Two legs on a base, filled through one of them from above: the base first, then both legs level.
    [Fact]
    public void Legs_on_one_base_rise_together()
    {
        var grid = Bodies.Boxes(2, Bodies.Box(0, 0, 0, 100, 20, 20), Bodies.Box(0, 0, 20, 20, 20, 120), Bodies.Box(80, 0, 20, 100, 20, 120));
        var flood = Flood(grid, grid.Nearest(new(10, 10, 119)));
        // What only falls through has been passed, not filled, but for the column of cells that falls: it is counted as it is passed.
        var highest = new[] { -1.0, -1.0 };
        foreach (var m in flood.Order.Select(grid.Middle).Where(m => m.Z > 20 && (m.X is > 12 and < 20 || m.X > 80)))
        {
            var leg = m.X > 50 ? 1 : 0;
            highest[leg] = Math.Max(highest[leg], m.Z);
            Assert.True(Math.Abs(highest[0] - highest[1]) <= 2.001 || highest.Min() < 0, $"{highest[0]} {highest[1]}");
        }
    }

    [Fact]
    public void Within_a_level_ways_are_the_shortest_there_are()
    {
        // A plate with a slot in the way.
        var grid = Bodies.Boxes(1, Bodies.Box(0, 0, 0, 10, 30, 1), Bodies.Box(10, 20, 0, 14, 30, 1), Bodies.Box(14, 0, 0, 30, 30, 1));
        var start = grid.Nearest(new(0.5, 0.5, 0.5));
        var flood = Flood(grid, start);
        var ways = Enumerable.Repeat(double.PositiveInfinity, grid.Count).ToArray();
        ways[start] = 0;
        for (var changed = true; changed;)
        {
            changed = false;
            for (var cell = 0; cell < grid.Count; cell++)
            {
                if (!grid.IsSolid(cell)) continue;
                for (var y = -1; y <= 1; y++)
                {
                    for (var x = -1; x <= 1; x++)
                    {
                        var from = cell + x + (y * grid.Stride(1));
                        if ((x == 0 && y == 0) || !grid.IsSolid(from) || !(ways[from] + Math.Sqrt((x * x) + (y * y)) < ways[cell] - 1e-9)) continue;
                        ways[cell] = ways[from] + Math.Sqrt((x * x) + (y * y));
                        changed = true;
                    }
                }
            }
        }

        for (var cell = 0; cell < grid.Count; cell++)
            if (grid.IsSolid(cell)) Assert.Equal(ways[cell], flood.Way_mm(cell), 0.01);
    }

    [Fact]
    public void A_second_entry_halves_the_way_through_a_bar()
    {
        var grid = Bodies.Boxes(1, Bodies.Box(0, 0, 0, 90, 3, 3));
        var (one, other) = (grid.Nearest(new(0, 1.5, 1)), grid.Nearest(new(90, 1.5, 1)));
        double Farthest(params int[] from)
        {
            var flood = Flood(grid, from);
            return flood.Order.Where(c => grid.Middle(c).Z < 1).Max(flood.Way_mm);
        }

        Assert.Equal(90, Farthest(one), 2.0);
        Assert.Equal(45, Farthest(one, other), 2.0);
    }

    // Stood on its end the same body fills as one that is drawn so: levels, order and ways.
    [Theory]
    [InlineData(0, false)]
    [InlineData(0, true)]
    [InlineData(1, false)]
    [InlineData(1, true)]
    [InlineData(2, true)]
    public void A_body_turned_on_its_side_fills_as_one_drawn_so(int axis, bool reversed)
    {
        // A step of three heights along the way that is up, in a grid whose z is up.
        (double Low, double High, double Wide)[] steps = [(0, 10, 30), (10, 24, 14), (24, 40, 6)];
        var upright = Bodies.Boxes(2, [.. steps.Select(s => Bodies.Box(0, 0, s.Low, s.Wide, 8, s.High))]);
        double Turned(double z) => reversed ? 40 - z : z;
        var lying = Bodies.Boxes(2, [.. steps.Select(s =>
        {
            var (low, high) = (Math.Min(Turned(s.Low), Turned(s.High)), Math.Max(Turned(s.Low), Turned(s.High)));
            return axis switch { 0 => Bodies.Box(low, 0, 0, high, 8, s.Wide), 1 => Bodies.Box(0, low, 0, s.Wide, high, 8), _ => Bodies.Box(0, 0, low, s.Wide, 8, high) };
        })]);
        var up = new GridUp(axis, reversed);
        Vec3 Place(double along, double aside, double wide) => axis switch { 0 => new(Turned(along), aside, wide), 1 => new(wide, Turned(along), aside), _ => new(wide, aside, Turned(along)) };
        var (one, other) = (Flood(upright, upright.Nearest(new(29, 1, 1))), RisingFlood.Of(lying, [(lying.Nearest(Place(1, 1, 29)), 1)], up));
        Assert.Equal(one.Order.Select(c => Math.Round(upright.Middle(c).Z, 6)), other.Order.Select(c => Math.Round(up.Of(lying.Middle(c)) + (reversed ? 40 : 0), 6)));
        Assert.Equal(one.Order.Max(one.Way_mm), other.Order.Max(other.Way_mm), 1e-6);
        Assert.Equal(up.Of(lying.Middle(other.Order[0])), up.Height_mm(lying, up.Level(lying, other.Order[0])), 1e-9);
    }

    // Two wells with a wall between, each with an entry of its own: until the wall is passed each holds what came in by its own entry, a third and two thirds.
    [Fact]
    public void Two_wells_fill_each_by_its_own_entry_until_they_meet()
    {
        var grid = Bodies.Boxes(2, Bodies.Box(0, 0, 0, 40, 20, 40), Bodies.Box(60, 0, 0, 100, 20, 40), Bodies.Box(0, 0, 40, 100, 20, 60));
        var flood = RisingFlood.Of(grid, [(grid.Nearest(new(1, 10, 1)), 1.0 / 3), (grid.Nearest(new(99, 10, 1)), 2.0 / 3)], GridUp.Z);
        Assert.Equal(grid.SolidCount, flood.Order.Distinct().Count());
        var well = 20 * 10 * 20;
        var first = flood.Order.Take(well).Count(c => grid.Middle(c).X < 50);
        Assert.Equal(well / 3.0, first, 2.0);
        // The fuller one runs over into the other before anything rises above the wall.
        var risen = Enumerable.Range(0, flood.Order.Length).First(i => grid.Middle(flood.Order[i]).Z > 42);
        Assert.Equal((2 * well) + (50 * 10), risen);
    }

    // A plate 3 mm high, lower than the front: it fills from its entry on over its whole height, by one, two or five cells of it, and a slope of its floor of one in a hundred changes nothing.
    [Theory]
    [InlineData(2.5)]
    [InlineData(1.3)]
    [InlineData(0.6)]
    public void A_flat_space_lower_than_the_front_fills_from_its_entry_on(double cell_mm)
    {
        var grid = SolidGrid.Read(new(new(0, 0, 0), new(90, 12, 3.12)), cell_mm, (p, into) =>
        {
            if (p.X is > 0 and < 90 && p.Y is > 0 and < 12) into.Add(new(0.01 * p.Y, 3 + (0.01 * p.Y)));
        });
        var flood = RisingFlood.Of(grid, [(grid.Nearest(new(0, 6, 1.5)), 1.0)], GridUp.Z, new(8, 0.01));
        var filled = 0.0;
        foreach (var cell in flood.Order)
        {
            filled += grid.Part(cell);
            // Where half of it is full, the front is half way, less its own roundness.
            var part = filled / grid.Filled;
            if (part > 0.15) Assert.InRange(grid.Middle(cell).X, (90 * part) - 12, (90 * part) + 9);
        }
    }

    // The same space over a well at its far end: all of it fills before the well does, where one that finds its level would leave the higher side of its floor empty.
    [Fact]
    public void What_lies_beside_a_stream_on_its_floor_fills_before_the_well_that_it_runs_into()
    {
        var grid = SolidGrid.Read(new(new(0, 0, -20), new(110, 12, 3.5)), 1, (p, into) =>
        {
            if (p.X is > 0 and < 90 && p.Y is > 0 and < 12) into.Add(new(0.035 * p.Y, 3 + (0.035 * p.Y)));
            else if (p.X is >= 90 and < 110 && p.Y is > 0 and < 12) into.Add(new(-20, 3));
        });
        int LastOfFlat(FloodFront? front) => RisingFlood.Of(grid, [(grid.Nearest(new(0, 1, 1)), 1.0)], GridUp.Z, front).Order is var order ? Enumerable.Range(0, order.Length).Last(i => grid.Middle(order[i]).X < 80) : 0;
        var flat = Enumerable.Range(0, grid.Count).Count(c => grid.IsSolid(c) && grid.Middle(c).X < 80);
        Assert.InRange(LastOfFlat(new(8, 0.01)), flat, 1.2 * flat);
        Assert.True(LastOfFlat(null) > 2 * flat);
    }

    // A wall that lies along the axes is as thick as it is, however its cells fall: volume of boxes, exactly; that of a turned plate and of a ball by their closed forms.
    [Theory]
    [InlineData(0)]
    [InlineData(0.3)]
    [InlineData(0.7)]
    public void What_cells_stand_for_is_the_volume_of_the_body(double aside)
    {
        var box = SolidGrid.Read(new(new(0, 0, 0), new(40 + aside, 30 + aside, 2.5 + (2 * aside))), 1.1, (p, into) =>
        {
            if (p.X is > 0 and < 40 && p.Y is > 0 and < 30) into.Add(new(0, 2.5));
        });
        // Sides across are found to a sixteenth of a cell.
        Assert.Equal(40 * 30 * 2.5, box.Filled * 1.331, 40 * 30 * 2.5 * 0.006);
        var (s, c) = Math.SinCos(0.5 + aside);
        var turned = SolidGrid.Read(new(new(-40, -40, 0), new(40, 40, 20)), 1.1, (p, into) =>
        {
            if (Math.Abs((c * p.X) + (s * p.Y)) < 1.25 && Math.Abs((c * p.Y) - (s * p.X)) < 30) into.Add(new(0, 20));
        });
        Assert.Equal(60 * 2.5 * 20, turned.Filled * 1.331, 60 * 2.5 * 20 * 0.06);
        var ball = SolidGrid.Read(new(new(-10, -10, -10), new(10, 10, 10)), 1, (p, into) =>
        {
            if (100 - (p.X * p.X) - (p.Y * p.Y) is > 0 and var left) into.Add(new(-Math.Sqrt(left), Math.Sqrt(left)));
        });
        Assert.Equal(4000 * Math.PI / 3, ball.Filled, 4000 * Math.PI / 3 * 0.05);
    }

    private static RisingFlood Flood(SolidGrid grid, params int[] from) => RisingFlood.Of(grid, from.Select(c => (c, 1.0)), GridUp.Z);
}
