using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Fillets between turned bodies and what they stand on or run into, against closed forms and the definition: closing by a ball (Serra 1982).</summary>
public class SlopedFilletTests
{
    private const double Tolerance = 0.01;
    private const double Degrees = 2;

    /// <summary>Every way in which sloped ground meets other ground: along, across, end on, beside walls from the joint up, upright cones.</summary>
    private static readonly SortedDictionary<string, Prism[]> Cases = new()
    {
        ["rod on a plate"] = [new(Rectangle(-30, -30, 30, 30), 0, 8), .. Rod(TurnedAxis.X, 60, 16, default)],
        ["rod that ends on a plate"] = [new(Rectangle(-40, -30, 40, 30), 0, 8), .. Rod(TurnedAxis.X, 50, 16, default)],
        ["rod across a wall"] = [.. Rod(TurnedAxis.X, 70, 18, default), new(Rectangle(-4, -30, 4, 30), 0, 30)],
        ["rod beside a block"] = [new(Rectangle(-18, -44, 18, 0), 0, 16), .. Rod(TurnedAxis.X, 56, 22, default)],
        ["cone on a plate"] = [new(Rectangle(-30, -30, 30, 30), 0, 5), .. TurnedBody.Prisms(TurnedBody.Profile([PlanPath.Polygon(new(0, 0), new(25, 0), new(25, 6), new(0, 20))], 0.01), TurnedAxis.Z, default, Tolerance)],
        ["ball on a plate"] = [new(Rectangle(-30, -30, 30, 30), 0, 6), .. TurnedBody.Prisms(TurnedBody.Profile([new([new(new(18, 0), 1), new(new(-18, 0))], true)], 0.01), TurnedAxis.Z, default, Tolerance)],
    };

    public static TheoryData<string> Names => [.. Cases.Keys];

    [Theory]
    [InlineData(16, 8, 3)]
    [InlineData(16, 8, 5)]
    [InlineData(20, 4, 6)]
    [InlineData(20, 15, 2)]
    public void Along_a_lying_rod_it_is_the_arc_tangent_to_the_floor_and_the_circle(double big, double floor, double r)
    {
        var fillet = Terrain([new(Rectangle(-30, -50, 30, 50), 0, floor), .. Rod(TurnedAxis.X, 60, big, default)], r);
        // The ball's middle is at r over the floor and at R + r from the axis.
        var y = Math.Sqrt(((big + r) * (big + r)) - ((floor + r) * (floor + r)));
        var touches = y * big / (big + r);
        for (var at = touches + 0.02; at < y; at += 0.05)
        {
            var expected = floor + r - Math.Sqrt((r * r) - ((y - at) * (y - at)));
            var (height, gradient, _) = fillet.At(new(3.3, at));
            // Chords of the circle stand off it by half the tolerance to either side.
            Assert.True(Math.Abs(height - expected) / Math.Sqrt(1 + gradient.LengthSquared) <= 1.5 * Tolerance, $"{height - expected} mm at {at}");
            Assert.Equal(height, fillet.At(new(3.3, -at)).Height, 1e-3);
        }

        Assert.Equal(floor, fillet.At(new(3.3, y + 0.05)).Height, 1e-9);
        Assert.Equal(0, fillet.Raise(new(3.3, touches - 0.3)), 1e-9);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_surface_is_the_closing_by_the_ball(string name)
    {
        const double r = 4;
        var fillet = Terrain(Cases[name], r);
        var oracle = new ClosingOracle(TerrainBuild.Plateaus(Cases[name]), Degrees, r, -1000);
        var random = new Random(3);
        var inside = 0;
        for (var i = 0; i < 20_000 && inside < 80; i++)
        {
            var p = new Vec2((random.NextDouble() * 90) - 45, (random.NextDouble() * 90) - 45);
            if (fillet.Raise(p) == 0) continue;
            inside++;
            var (height, gradient, _) = fillet.At(p);
            var expected = Math.Max(fillet.Sharp.At(p).Height, oracle.Height(p));
            var stretch = Math.Sqrt(1 + gradient.LengthSquared);
            Assert.True(Math.Abs(height - expected) / stretch <= 2 * Tolerance, $"{name}: {height - expected} mm off the closing at {p}");
        }

        Assert.Equal(80, inside);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Heights_are_continuous_never_steeper_than_the_walls_and_never_below_the_sharp_terrain(string name)
    {
        var fillet = Terrain(Cases[name], 4);
        var slope = 1 / Math.Tan(Degrees * Math.PI / 180);
        var random = new Random(5);
        for (var line = 0; line < 60; line++)
        {
            var from = new Vec2((random.NextDouble() * 90) - 45, (random.NextDouble() * 90) - 45);
            var to = new Vec2((random.NextDouble() * 90) - 45, (random.NextDouble() * 90) - 45);
            var before = fillet.At(from).Height;
            const int steps = 4000;
            for (var i = 1; i <= steps; i++)
            {
                var p = from + (i / (double)steps * (to - from));
                var here = fillet.At(p).Height;
                Assert.True(here >= fillet.Sharp.At(p).Height);
                // Chords of the valley may leave the surface a tenth of the tolerance off where it ends.
                Assert.True(Math.Abs(here - before) <= (slope * (to - from).Length / steps) + (slope * Tolerance / 10), $"{name}: a step of {here - before} mm at {p}");
                before = here;
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_body_is_valid_keeps_its_draft_and_holds_what_was_reckoned(string name)
    {
        var fillet = Terrain(Cases[name], 4);
        var mesh = FilletBuild.Solid(fillet, Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05, $"{name}: least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
        var volume = mesh.Volume();
        var sharp = TerrainBuild.Solid(fillet.Sharp, Tolerance).Volume();
        Assert.True(volume > sharp + 5, $"{name}: filled by {volume - sharp} mm³");
        Assert.True(Math.Abs(sharp + fillet.AddedVolume(1e-5 * volume) - volume) <= 2e-4 * volume, $"{name}: {sharp + fillet.AddedVolume(1e-5 * volume) - volume} of {volume - sharp} mm³");
    }

    [Fact]
    public void A_small_ball_runs_through_a_narrow_gap()
    {
        // Between rod and block are 3 mm.
        Prism[] prisms = [new(Rectangle(-40, -40, 40, 40), 0, 6), .. Rod(TurnedAxis.X, 60, 16, default), new(Rectangle(-20, 18, 20, 30), 0, 20)];
        var fillet = Terrain(prisms, 1.0);
        Assert.Equal(1, fillet.SlopeRadius);
        var mesh = FilletBuild.Solid(fillet, Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05);
    }

    [Fact]
    public void Beside_one_turned_body_random_blocks_give_valid_bodies()
    {
        var (filled, steep) = (0, 0);
        Gen.Select(Turned, Block.Array[1, 2], Gen.Double[1.5, 6]).Sample(
            (turned, blocks, r) =>
            {
                var fillet = Terrain([.. blocks, .. turned], r, r / 2);
                var mesh = FilletBuild.Solid(fillet, Tolerance);
                MeshAssert.Valid(mesh);
                var sharp = TerrainBuild.Solid(fillet.Sharp, Tolerance).Volume();
                var added = fillet.AddedVolume(1e-5 * sharp);
                Assert.True(Math.Abs(sharp + added - mesh.Volume()) <= 3e-4 * sharp, $"{sharp + added - mesh.Volume()} of {added} mm³");
                if (fillet.SlopeRadius > 0) Interlocked.Increment(ref filled);
                if (TerrainBuild.LeastDraftDegrees(mesh) < Degrees - 0.05) Interlocked.Increment(ref steep);
            },
            iter: 40);
        Assert.True(filled >= 12, $"only {filled} were filled");
        // A narrow facet is left now and then, see DEVELOPERS.md; the finding no-draft tells of it.
        Assert.True(steep <= 2, $"{steep} have a facet with less draft");
    }

    private static readonly Gen<ImmutableArray<Prism>> Turned = Gen.Select(Gen.Int[0, 3], Gen.Double[8, 20], Gen.Double[20, 60], Gen.Double[-12, 12], Gen.Double[-12, 12]).Select(
        (kind, radius, length, x, y) => kind switch
        {
            0 => Rod(TurnedAxis.X, length, radius, new(x, y, 0)),
            1 => Rod(TurnedAxis.Y, length, radius, new(x, y, 0)),
            2 => TurnedBody.Prisms(TurnedBody.Profile([PlanPath.Polygon(new(0, 0), new(radius + 4, 0), new(radius + 4, 4), new(radius / 2, length / 2), new(0, length / 2))], 0.01), TurnedAxis.Z, new(x, y, 0), Tolerance),
            _ => TurnedBody.Prisms(TurnedBody.Profile([new([new(new(radius, 0), 1), new(new(-radius, 0))], true)], 0.01), TurnedAxis.Z, new(x, y, 0), Tolerance),
        });

    private static readonly Gen<Prism> Block = Gen.Select(Gen.Double[-30, 30], Gen.Double[-30, 30], Gen.Double[3, 40], Gen.Double[3, 40], Gen.Double[0, 3.2], Gen.Double[3, 24]).Select(
        (x, y, a, b, turn, high) => new Prism(PlanRegion.Polygon([.. PlanPath.Polygon(new Vec2(-a, -b), new Vec2(a, -b), new Vec2(a, b), new Vec2(-a, b)).Transformed(0.5, turn, new(x, y)).Flatten(1)]), 0, high));

    private static FilletedTerrain Terrain(Prism[] prisms, params double[] radii)
    {
        var angle = Degrees * Math.PI / 180;
        var plateaus = TerrainBuild.Plateaus(prisms);
        return new(new(plateaus, 0, angle, angle, TerrainBuild.Lattice, Tolerance, cornerReach: radii[0]), [], [], Tolerance, new(PlanRegion.UnionOfCoverage(plateaus.Select(p => p.Region)), [.. radii]));
    }

    private static PlanRegion Rectangle(double left, double low, double right, double high) => PlanRegion.Rectangle(new(left, low), new(right, high));

    private static ImmutableArray<Prism> Rod(TurnedAxis axis, double length, double radius, Vec3 at) => TurnedBody.Prisms(
        TurnedBody.Profile([PlanPath.Polygon(new(-length / 2, 0), new(length / 2, 0), new(length / 2, radius), new(-length / 2, radius))], 0.01), axis, at, Tolerance);
}
