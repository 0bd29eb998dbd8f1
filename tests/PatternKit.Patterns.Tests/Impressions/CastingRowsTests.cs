using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Impressions;

namespace PatternKit.Patterns.Tests.Impressions;

/// <summary>Rectangles beside a runner: what must hold of any of them is plane geometry, and the flask is held against rows laid by hand.</summary>
public sealed class CastingRowsTests
{
    private static readonly RunnerRoom Runner = new(12, 26);

    private static readonly Gen<CastingRoom> Room =
        from x in Gen.Double[-30, 30]
        from y in Gen.Double[-30, 30]
        from w in Gen.Double[15, 180]
        from h in Gen.Double[15, 180]
        from prints in Gen.Int[0, 9]
        select new CastingRoom(new(x - (w / 2), y - (h / 2)), new(x + (w / 2), y + (h / 2)), prints == 0, prints == 1);

    private static readonly Gen<(ImmutableArray<CastingRoom> Rooms, double Sand)> Rooms = Gen.Select(Room.Array[1, 8].Select(r => r.ToImmutableArray()), Gen.Double[25, 50]);

    // plates.toml asks for 30 to 50 mm by weight.
    [Fact]
    public void Between_any_two_is_the_sand_asked_for_and_each_is_at_whole_millimetres_from_the_first() => Rooms.Sample((rooms, sand) =>
    {
        var at = CastingRows.Arrange(rooms, sand, Runner);
        Assert.Equal(rooms.Length, at.Length);
        Assert.Equal(default, at[0]);
        Assert.All(at, p => Assert.Equal((Math.Round(p.X), Math.Round(p.Y)), (p.X, p.Y)));
        for (var i = 0; i < at.Length; i++)
            for (var j = i + 1; j < at.Length; j++)
                Assert.True(Apart(Box(rooms, at, i), Box(rooms, at, j)) >= sand - 1e-5, $"{i} and {j} are {Apart(Box(rooms, at, i), Box(rooms, at, j))} mm apart, of {sand}");
    });

    // Along the runner each comes to it without another in the way: all of a row have their near side at one line, to the whole millimetre.
    [Fact]
    public void Each_stands_against_one_runner() => Rooms.Sample((rooms, sand) =>
    {
        var at = CastingRows.Arrange(rooms, sand, Runner);
        var boxes = Enumerable.Range(0, at.Length).Select(i => Box(rooms, at, i)).ToArray();
        Assert.True(OneRunner(boxes, b => b.Low.Y, b => b.High.Y) || OneRunner(boxes, b => b.Low.X, b => b.High.X), string.Join("; ", boxes));

        static bool OneRunner((Vec2 Low, Vec2 High)[] boxes, Func<(Vec2 Low, Vec2 High), double> low, Func<(Vec2 Low, Vec2 High), double> high) =>
            boxes.SelectMany(b => new[] { low(b), high(b) }).Any(line =>
                boxes.All(b => Math.Abs(low(b) - line) <= 1 + 1e-9 || (high(b) < line && Math.Abs(high(b) - boxes.Where(o => high(o) < line).Max(high)) <= 1 + 1e-9 && line - high(b) >= Runner.Between_mm - 1 - 1e-9)));
    });

    [Fact]
    public void The_flask_is_no_larger_than_that_of_all_in_one_row_as_they_are_listed() => Rooms.Sample((rooms, sand) =>
    {
        var at = CastingRows.Arrange(rooms, sand, Runner);
        var boxes = Enumerable.Range(0, at.Length).Select(i => Box(rooms, at, i)).ToArray();
        var (x, y) = (boxes.Max(b => b.High.X) - boxes.Min(b => b.Low.X), boxes.Max(b => b.High.Y) - boxes.Min(b => b.Low.Y));
        // The runner lies along x or along y, between them or beside; the arranged flask is at most with it beside the row.
        var arranged = Math.Min((x + (2 * sand)) * (y + Runner.Beside_mm + (2 * sand)), (x + Runner.Beside_mm + (2 * sand)) * (y + (2 * sand)));
        var isBetween = arranged > Naive(rooms, sand) ? (x + (2 * sand)) * (y + (2 * sand)) : arranged;
        Assert.True(isBetween <= Naive(rooms, sand) + 1e-6, $"{isBetween} of {Naive(rooms, sand)} mm²");
    });

    // Core prints lie before the runner of a row along the other way.
    [Fact]
    public void Prints_along_x_lie_along_the_runner()
    {
        ImmutableArray<CastingRoom> rooms = [.. Enumerable.Repeat(new CastingRoom(new(-60, -15), new(60, 15), PrintsX: true), 4)];
        var at = CastingRows.Arrange(rooms, 30, Runner);
        // Two rows along x, each with its prints towards the next of its row.
        Assert.Equal(2, at.Select(p => p.Y).Distinct().Count());
        Assert.Equal(2, at.Select(p => p.X).Distinct().Count());
    }

    // Worked by hand: a plate of 150 × 84 and two discs of 50, 30 mm of sand, the runner 12 + 26 mm. One row along x: (150 + 50 + 50 + 2·30 + 60) × (84 + 38 + 60) = 370 × 182 = 67 340 mm². Along y: (84 + 100 + 60 + 60) × (150 + 38 + 60)
    // = 304 × 248 = 75 392. Plate above, discs below along x: (150 + 60) × (84 + 50 + 50 + 60) = 210 × 244 = 51 240 mm², the least.
    [Fact]
    public void Two_small_ones_lie_across_the_runner_from_a_large_one()
    {
        var disc = new CastingRoom(new(-25, -25), new(25, 25));
        var at = CastingRows.Arrange([new(new(-75, -42), new(75, 42)), disc, disc], 30, Runner);
        Assert.Equal([new(0, 0), new(-40, -117), new(40, -117)], at);
    }

    private static double Naive(ImmutableArray<CastingRoom> rooms, double sand)
    {
        var free = rooms.All(r => !r.PrintsX) || rooms.Any(r => r.PrintsY) ? new[] { false, true } : [false];
        if (rooms.Any(r => r.PrintsY) && !rooms.Any(r => r.PrintsX)) free = [true];
        return free.Min(alongY =>
        {
            double Long(CastingRoom r) => alongY ? r.High.Y - r.Low.Y : r.High.X - r.Low.X;
            double Deep(CastingRoom r) => alongY ? r.High.X - r.Low.X : r.High.Y - r.Low.Y;
            // Whole millimetres: up to one for each.
            return (rooms.Sum(Long) + ((rooms.Length - 1) * (sand + 1)) + (2 * sand)) * (rooms.Max(Deep) + 1 + Runner.Beside_mm + (2 * sand));
        });
    }

    private static (Vec2 Low, Vec2 High) Box(ImmutableArray<CastingRoom> rooms, ImmutableArray<Vec2> at, int i) => (rooms[i].Low + at[i], rooms[i].High + at[i]);

    private static double Apart((Vec2 Low, Vec2 High) a, (Vec2 Low, Vec2 High) b) =>
        new Vec2(Math.Max(0, Math.Max(a.Low.X - b.High.X, b.Low.X - a.High.X)), Math.Max(0, Math.Max(a.Low.Y - b.High.Y, b.Low.Y - a.High.Y))).Length;
}
