using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Rounded edges against the definition, opening by a ball (Serra 1982), and against closed forms of the arc between two tangents.</summary>
public class RoundedEdgesTests
{
    private const double Tolerance = 0.01;
    private static readonly PlanRegion Plate = PlanRegion.Rectangle(new(0, 0), new(80, 60));

    public static TheoryData<double, double> DraftsAndRadii => new()
    {
        { 0.5, 3 }, { 1, 3 }, { 2, 1 }, { 2, 3 }, { 2, 6 }, { 5, 4 }, { 10, 3 },
    };

    public static TheoryData<int> Seeds => [1, 2, 3, 4, 5, 6];

    public static TheoryData<string> Names => [.. FilletBuild.Cases.Keys];

    public static TheoryData<string> Bodies => [.. Whole.Keys];

    /// <summary>As a kit has them: hollow corners of the plan rounded before draft.</summary>
    private static SortedDictionary<string, Prism[]> Whole => new(FilletBuild.Cases.ToDictionary(c => c.Key, c => c.Value))
    {
        ["inner corner"] = [new(PlanRegion.Rectangle(new(0, 0), new(60, 40)), 0, 6), new(Closed(PlanRegion.Rectangle(new(10, 10), new(40, 16)).Union(PlanRegion.Rectangle(new(10, 10), new(16, 32)))), 0, 20)],
        ["pocket"] = [new(PlanRegion.Rectangle(new(0, 0), new(60, 40)), 0, 20), new(Opened(PlanRegion.Rectangle(new(20, 10), new(40, 30))), 6, 20, true)],
    };

    [Theory]
    [MemberData(nameof(DraftsAndRadii))]
    public void The_surface_along_a_straight_edge_is_the_arc_tangent_to_top_and_wall(double degrees, double radius)
    {
        const double high = 20;
        var theta = degrees * Math.PI / 180;
        var rounded = FilletBuild.Terrain([new(Plate, 0, high)], degrees, 0, Tolerance, radius);
        // Tangent points r tan(45° − θ/2) from the edge, on the top and down the wall.
        var reach = radius * Math.Tan((Math.PI / 4) - (theta / 2));
        Assert.Equal(high, rounded.At(new(80 - reach - 0.01, 30)).Height, 1e-9);
        Assert.True(rounded.At(new(80 - reach + 0.05, 30)).Height < high - 1e-5);
        var onWall = 80 + (reach * Math.Sin(theta));
        Assert.Equal(rounded.Sharp.At(new(onWall + 0.001, 30)).Height, rounded.At(new(onWall + 0.001, 30)).Height, 1e-9);
        for (var i = 1; i < 40; i++)
        {
            var x = 80 - reach + (i / 40.0 * (1 + Math.Sin(theta)) * reach);
            var aside = x - (80 - reach);
            var (height, gradient, _) = rounded.At(new(x, 30));
            Assert.Equal(high - radius + Math.Sqrt((radius * radius) - (aside * aside)), height, 1e-9);
            Assert.Equal(-aside / Math.Sqrt((radius * radius) - (aside * aside)), gradient.X, 1e-6);
        }
    }

    [Theory]
    [MemberData(nameof(DraftsAndRadii))]
    public void A_straight_edge_loses_the_area_of_the_wedge_less_the_sector(double degrees, double radius)
    {
        // r² (tan(45° − θ/2) − (90° − θ)/2) per length: the kite between both tangents and the centre, less the sector.
        const double high = 20;
        var theta = degrees * Math.PI / 180;
        var area = radius * radius * (Math.Tan((Math.PI / 4) - (theta / 2)) - (((Math.PI / 2) - theta) / 2));
        var shorter = FilletBuild.Terrain([new(PlanRegion.Rectangle(new(0, 0), new(40, 30)), 0, high)], degrees, 0, Tolerance, radius);
        var longer = FilletBuild.Terrain([new(PlanRegion.Rectangle(new(0, 0), new(40, 50)), 0, high)], degrees, 0, Tolerance, radius);
        AssertRelative(40 * area, longer.RemovedVolume(1e-3) - shorter.RemovedVolume(1e-3), 2e-3);
        AssertRelative(40 * area, Removed(longer) - Removed(shorter), 1e-2);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_edge_of_a_round_boss_or_hole_is_the_wedge_turned_about_its_axis(bool isBoss)
    {
        const double high = 20, radius = 3, degrees = 2, across = 24;
        const int sides = 128;
        var theta = degrees * Math.PI / 180;
        var circle = TerrainBuild.Circle(across, new(40, 30), sides);
        var rounded = isBoss ? FilletBuild.Terrain([new(circle, 0, high)], degrees, 0, Tolerance, radius)
            : FilletBuild.Terrain([new(Plate, 0, high), new(circle, 0, high, Removes: true)], degrees, 0, Tolerance, radius);
        var plain = isBoss ? 0 : FilletBuild.Terrain([new(Plate, 0, high)], degrees, 0, Tolerance, radius).RemovedVolume(1e-3);
        // Pappus: 2π times the first moment about the axis of what lies between top, wall and arc, by Simpson's rule.
        var edge = across / 2 * Math.Cos(Math.PI / (2 * sides));
        var reach = radius * Math.Tan((Math.PI / 4) - (theta / 2));
        var (low, wide) = (-reach, reach * Math.Sin(theta));
        const int n = 20_000;
        var moment = 0.0;
        for (var i = 0; i <= n; i++)
        {
            // x runs outward from the edge, away from the metal.
            var x = low + (i * (wide - low) / n);
            var arc = -radius + Math.Sqrt(Math.Max(0, (radius * radius) - ((reach + x) * (reach + x))));
            var height = Math.Min(0, -x / Math.Tan(theta)) - arc;
            moment += (i is 0 or n ? 1 : i % 2 == 1 ? 4 : 2) * height * (isBoss ? edge + x : edge - x);
        }

        var expected = 2 * Math.PI * moment * (wide - low) / (3 * n);
        AssertRelative(expected, rounded.RemovedVolume(1e-3) - plain, 1e-2);
        if (isBoss) AssertRelative(expected, Removed(rounded), 1e-2);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Every_rounded_place_is_touched_by_a_ball_that_stays_inside_so_that_opening_again_takes_nothing(int seed)
    {
        var (region, degrees, radius) = Body(seed);
        var rounded = FilletBuild.Terrain([new(region, 0, 20)], degrees, 0, Tolerance, radius);
        var random = new Random(seed);
        var found = 0;
        for (var i = 0; i < 200_000 && found < 100; i++)
        {
            var p = Somewhere(random);
            var (height, gradient, _) = rounded.At(p);
            Assert.True(height <= rounded.Sharp.At(p).Height, $"at {p} rounding adds {height - rounded.Sharp.At(p).Height} mm");
            if (rounded.Sharp.At(p).Height - height < 1e-3) continue;
            found++;
            var n = 1 / Math.Sqrt(1 + gradient.LengthSquared) * new Vec3(-gradient.X, -gradient.Y, 1);
            var centre = new Vec3(p.X, p.Y, height) - (radius * n);
            for (var k = 0; k < 400; k++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * random.NextDouble());
                var arm = radius * Math.Sqrt(random.NextDouble());
                var q = centre.Plan + (arm * new Vec2(c, s));
                var top = centre.Z + Math.Sqrt((radius * radius) - (arm * arm));
                var at = rounded.At(q);
                Assert.True((top - at.Height) / Math.Sqrt(1 + at.Gradient.LengthSquared) <= 2 * Tolerance, $"the ball at {p} stands out by {top - at.Height} mm at {q}");
            }
        }

        Assert.Equal(100, found);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void No_ball_inside_the_body_reaches_beyond_the_rounded_surface(int seed)
    {
        var (region, degrees, radius) = Body(seed);
        var rounded = FilletBuild.Terrain([new(region, 0, 20)], degrees, 0, Tolerance, radius);
        var body = Cone(region, degrees, 20);
        var random = new Random(seed);
        var low = region.Offset(2, 0.1);
        for (var i = 0; i < 400; i++)
        {
            var centre = Somewhere(random);
            if (!low.Contains(centre)) continue;
            // The highest that a ball about this place can stand under the body's surface; what the search misses makes it higher.
            var stands = double.PositiveInfinity;
            var offsets = Enumerable.Range(0, 41 * 64).Select(k => (Arm: radius * Math.Sin(Math.PI / 2 * (k / 64) / 40), Turn: 2 * Math.PI * (k % 64) / 64)).ToArray();
            foreach (var (arm, turn) in offsets) stands = Math.Min(stands, Under(arm, turn));
            foreach (var (arm, turn) in offsets.OrderBy(o => Under(o.Arm, o.Turn)).Take(6).ToArray())
                stands = Math.Min(stands, Refined(arm, turn));

            for (var k = 0; k < 40; k++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * random.NextDouble());
                var arm = radius * Math.Sqrt(random.NextDouble());
                var q = centre + (arm * new Vec2(c, s));
                var (height, gradient, _) = rounded.At(q);
                var top = stands + Math.Sqrt((radius * radius) - (arm * arm));
                Assert.True((top - height) / Math.Sqrt(1 + gradient.LengthSquared) <= 2 * Tolerance, $"the ball at {centre} stands out by {top - height} mm at {q}");
            }

            double Under(double arm, double turn)
            {
                var (s, c) = Math.SinCos(turn);
                return body.At(centre + (arm * new Vec2(c, s))).Value - Math.Sqrt(Math.Max(0, (radius * radius) - (arm * arm)));
            }

            double Refined(double arm, double turn)
            {
                var best = Under(arm, turn);
                for (var step = 0.1; step > 1e-7; step *= 0.7)
                {
                    for (var k = 0; k < 12; k++)
                    {
                        var (a, t) = (Math.Clamp(arm + (radius * step * ((2 * random.NextDouble()) - 1)), 0, radius), turn + (step * ((2 * random.NextDouble()) - 1)));
                        var value = Under(a, t);
                        if (value < best) (best, arm, turn) = (value, a, t);
                    }
                }

                return best;
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Heights_with_fillets_and_rounded_edges_are_continuous_and_never_steeper_than_the_walls(string name)
    {
        const double degrees = 2;
        var rounded = FilletBuild.Terrain(FilletBuild.Cases[name], degrees, 2, Tolerance, 1.5);
        var slope = 1 / Math.Tan(degrees * Math.PI / 180);
        var random = new Random(5);
        for (var line = 0; line < 60; line++)
        {
            var from = new Vec2(random.NextDouble() * 60, random.NextDouble() * 40);
            var to = new Vec2(random.NextDouble() * 60, random.NextDouble() * 40);
            var before = rounded.At(from).Height;
            const int steps = 4000;
            for (var i = 1; i <= steps; i++)
            {
                var height = rounded.At(from + ((double)i / steps * (to - from))).Height;
                Assert.True(Math.Abs(height - before) <= (slope * Vec2.Distance(from, to) / steps * 1.001) + 1e-6, $"{name}: {height - before} mm near {from + ((double)i / steps * (to - from))}");
                before = height;
            }
        }
    }

    [Theory]
    [MemberData(nameof(Bodies))]
    public void The_body_is_valid_keeps_its_draft_and_holds_what_was_reckoned(string name)
    {
        var rounded = FilletBuild.Terrain(Whole[name], 2, 2, Tolerance, 1.5);
        var mesh = FilletBuild.Solid(rounded, Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= 1.95, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
        var volume = mesh.Volume();
        var expected = TerrainBuild.Solid(rounded.Sharp, Tolerance).Volume() + rounded.AddedVolume(1e-5 * volume) - rounded.RemovedVolume(1e-5 * volume);
        Assert.True(Math.Abs(expected - volume) <= 1e-4 * volume, $"{name}: {volume - expected} of {volume} mm³");
        foreach (var f in mesh.Facets.Where(f => mesh.AreaNormal(f).Z > 0))
        {
            var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            var middle = (1 / 3.0) * (a + b + c);
            var (height, gradient, _) = rounded.At(middle.Plan);
            var n = mesh.AreaNormal(f);
            var steepness = Math.Max(gradient.LengthSquared, n.Plan.LengthSquared / (n.Z * n.Z));
            Assert.True(Math.Abs(height - middle.Z) / Math.Sqrt(1 + steepness) <= 2 * Tolerance, $"{name}: {height - middle.Z} mm at {middle}");
        }
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");

    private static PlanRegion Closed(PlanRegion region) => region.Offset(3, 0.01).Offset(-3, 0.01);

    private static PlanRegion Opened(PlanRegion region) => region.Offset(-3, 0.01).Offset(3, 0.01);

    private static Vec2 Somewhere(Random random) => new((random.NextDouble() * 64) - 32, (random.NextDouble() * 64) - 32);

    private static double Removed(FilletedTerrain rounded) =>
        TerrainBuild.Solid(rounded.Sharp, Tolerance).Volume() - FilletBuild.Solid(rounded, Tolerance).Volume();

    /// <summary>A plan without corners sharper or necks narrower than the ball: in those, edges meet that a ball cannot reach.</summary>
    private static (PlanRegion Region, double Degrees, double Radius) Body(int seed)
    {
        var random = new Random(seed);
        double[] drafts = [0.5, 1, 2, 3, 5];
        var (degrees, radius) = (drafts[seed % drafts.Length], 1 + (2 * random.NextDouble()));
        var parts = Enumerable.Range(0, 4).Select(_ =>
        {
            var (at, size) = (new Vec2((random.NextDouble() * 20) - 10, (random.NextDouble() * 20) - 10), new Vec2(8 + (random.NextDouble() * 14), 8 + (random.NextDouble() * 14)));
            return PlanRegion.Rectangle(at - (0.5 * size), at + (0.5 * size)).Transformed(1, random.NextDouble() * Math.PI, default);
        });
        var open = PlanRegion.Union(parts).Offset(-1.02 * radius, 0.001).Offset(1.02 * radius, 0.001);
        return (PlanRegion.From(open.Geometry), degrees, radius);
    }

    /// <summary>The body by the exact envelope of its top under a cone, which shares nothing with ramps.</summary>
    private static UpperEnvelope<Primitive> Cone(PlanRegion region, double degrees, double high)
    {
        var profile = new RoundedCone(degrees * Math.PI / 180, 0);
        Primitive[] faces = [.. RegionTriangles.Of([region], TerrainBuild.Lattice).Select(t => Primitive.Face(At(t.A), At(t.B), At(t.C), profile))];
        var rings = region.Rings().SelectMany(ring => ring.Select((a, i) => (A: At(a), B: At(ring[(i + 1) % ring.Length])))).ToArray();
        return new([.. faces, .. rings.Select(e => Primitive.Edge(e.A, e.B, profile)), .. rings.Select(e => Primitive.Vertex(e.A, profile))], 0);

        Vec3 At(Vec2 p) => new(p.X, p.Y, high);
    }
}
