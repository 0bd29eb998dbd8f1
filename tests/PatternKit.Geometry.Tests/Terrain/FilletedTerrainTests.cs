using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Fillets against the definition: closing by a ball (Serra 1982), where the ball touches faces and no edges.</summary>
public class FilletedTerrainTests
{
    private const double Tolerance = 0.01;
    private const double Floor = 6;
    private const double High = 22;
    private static readonly PlanRegion Plate = PlanRegion.Rectangle(new(-40, -40), new(40, 40));

    public static TheoryData<string> Names => [.. FilletBuild.Cases.Keys];

    public static TheoryData<int> Seeds => [1, 2, 3, 4, 5, 6];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Random_bodies_agree_with_a_slow_search_over_all_balls(int seed)
    {
        var (prisms, degrees, radius) = Body(seed);
        var fillet = FilletBuild.Terrain(prisms, degrees, radius, Tolerance);
        var oracle = new ClosingOracle(TerrainBuild.Plateaus(prisms), degrees, radius, Floor);
        var random = new Random(seed);
        var inside = 0;
        for (var i = 0; i < 4000 && inside < 60; i++)
        {
            var p = new Vec2((random.NextDouble() * 60) - 30, (random.NextDouble() * 60) - 30);
            if (fillet.Raise(p) == 0 && random.NextDouble() > 0.005) continue;
            var (height, gradient, _) = fillet.At(p);
            // Nearer to the top the ball may rest on its edges, and those the fillets' ball never touches.
            if (height > High - radius && fillet.Raise(p) > 0) continue;
            inside++;
            var expected = Math.Max(fillet.Sharp.At(p).Height, oracle.Height(p));
            var stretch = Math.Sqrt(1 + gradient.LengthSquared);
            Assert.True((height - expected) / stretch <= 2 * Tolerance, $"{height - expected} mm above the closing at {p}");
            Assert.True((expected - height) / stretch <= 2 * Tolerance, $"{expected - height} mm below the closing at {p}");
        }

        Assert.Equal(60, inside);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void A_ball_that_the_walls_let_in_is_not_touched_so_closing_again_adds_nothing(int seed)
    {
        var (prisms, degrees, radius) = Body(seed);
        var fillet = FilletBuild.Terrain(prisms, degrees, radius, Tolerance);
        var oracle = new ClosingOracle(TerrainBuild.Plateaus(prisms), degrees, radius, Floor);
        var random = new Random(seed);
        for (var i = 0; i < 2000; i++)
        {
            var centre = new Vec2((random.NextDouble() * 60) - 30, (random.NextDouble() * 60) - 30);
            var (s, c) = Math.SinCos(2 * Math.PI * random.NextDouble());
            var arm = radius * Math.Sqrt(random.NextDouble());
            var p = centre + (arm * new Vec2(c, s));
            var (height, gradient, _) = fillet.At(p);
            if (height > High - radius && fillet.Raise(p) > 0) continue;
            var ball = oracle.Centre(centre) - Math.Sqrt((radius * radius) - (arm * arm));
            Assert.True((height - ball) / Math.Sqrt(1 + gradient.LengthSquared) <= 2 * Tolerance, $"the ball at {centre} is entered by {height - ball} mm at {p}");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Heights_are_continuous_never_steeper_than_the_walls_and_never_below_the_sharp_terrain(string name)
    {
        const double degrees = 2;
        var fillet = FilletBuild.Terrain(FilletBuild.Cases[name], degrees, 3, Tolerance);
        var slope = 1 / Math.Tan(degrees * Math.PI / 180);
        var random = new Random(5);
        for (var line = 0; line < 60; line++)
        {
            var from = new Vec2(random.NextDouble() * 60, random.NextDouble() * 40);
            var to = new Vec2(random.NextDouble() * 60, random.NextDouble() * 40);
            var before = fillet.At(from).Height;
            const int steps = 2000;
            for (var i = 1; i <= steps; i++)
            {
                var p = from + (i / (double)steps * (to - from));
                var here = fillet.At(p).Height;
                Assert.True(here >= fillet.Sharp.At(p).Height);
                Assert.True(Math.Abs(here - before) <= (slope * (to - from).Length / steps) + 1e-6, $"{name}: a step of {here - before} mm at {p}");
                before = here;
            }
        }
    }

    [Fact]
    public void A_fillet_ends_flush_where_its_floor_ends()
    {
        var fillet = FilletBuild.Terrain(FilletBuild.Cases["drop"], 2, 3, Tolerance);
        for (var y = -3.0; y < 43; y += 0.1)
        {
            // At the edge of the floor and beyond it, where the island does not stand, nothing is raised.
            Assert.Equal(0, fillet.Raise(new(60, y)), 1e-9);
            Assert.Equal(0, fillet.Raise(new(60.1, y)), 1e-9);
        }

        // One millimetre inside it is whole.
        Assert.True(fillet.Raise(new(59, 8.5)) > 0.5);
    }

    [Fact]
    public void Floors_one_above_the_other_have_their_own_radii()
    {
        var prisms = FilletBuild.Cases["steps"];
        var angle = 2 * Math.PI / 180;
        var plateaus = TerrainBuild.Plateaus(prisms);
        var sharp = new DraftedTerrain(plateaus, 0, angle, angle, TerrainBuild.Lattice, Tolerance, cornerReach: 4);
        PlanRegion From(Func<double, bool> height) => PlanRegion.Union(plateaus.Where(p => height(p.Height)).Select(p => p.Region));
        var both = new FilletedTerrain(
            sharp, [new(6, From(z => z >= 6), [new(From(z => z > 6), 4)]), new(14, From(z => z >= 14), [new(From(z => z > 14), 1)])], [], Tolerance);
        var upper = new FilletedTerrain(sharp, [new(14, From(z => z >= 14), [new(From(z => z > 14), 1)])], [], Tolerance);
        var lower = new FilletedTerrain(sharp, [new(6, From(z => z >= 6), [new(From(z => z > 6), 4)])], [], Tolerance);
        Assert.Equal(upper.AddedVolume(1e-3) + lower.AddedVolume(1e-3), both.AddedVolume(1e-3), 1e-2);
        // The large ball of the lower floor leaves the upper one alone.
        for (var x = 12.0; x < 48; x += 0.05) Assert.Equal(upper.At(new(x, 20)).Height, both.At(new(x, 20)).Height, 1e-9);
    }

    private static (Prism[] Prisms, double Degrees, double Radius) Body(int seed)
    {
        var random = new Random(seed);
        var islands = Enumerable.Range(0, 1 + (seed % 3)).Select(_ =>
        {
            var at = new Vec2((random.NextDouble() * 30) - 15, (random.NextDouble() * 30) - 15);
            return random.Next(2) == 0
                ? TerrainBuild.Circle(8 + (10 * random.NextDouble()), at, 16 + random.Next(40))
                : PlanRegion.Polygon([.. PlanPath.Polygon(new Vec2(-8, -4), new Vec2(8, -4), new Vec2(8, 4), new Vec2(-8, 4)).Transformed(1, random.NextDouble() * 3, at).Flatten(1)]);
        });
        return ([new(Plate, 0, Floor), .. islands.Select(i => new Prism(i, 0, High))], 1 + random.Next(4), 1.5 + (2 * random.NextDouble()));
    }
}
