using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>
/// Drafted bodies of revolution against closed forms. Under a draft θ a circle of radius R about the joint keeps its arc down to
/// the height R sin θ, where it is as steep as the draft, and goes on in the tangent: half width √(R² − z²), below R / cos θ − z tan θ.
/// </summary>
public class TurnedTerrainTests
{
    private const double Tolerance = 0.01;
    private const double Degrees = 3;
    private const double Theta = Degrees * Math.PI / 180;

    [Fact]
    public void A_lying_cylinder_keeps_its_arc_and_goes_on_in_the_tangent()
    {
        // The ends of two cylinders are the same, so their difference is the section alone.
        const double r = 20;
        var (shorter, longer) = (Lying(Rod(30, r)), Lying(Rod(50, r)));
        AssertRelative(20 * DraftedCircle(r), longer - shorter, 2e-4);
        Assert.True(longer > 50 * DraftedCircle(r), "the ends are drafted as well");
    }

    [Fact]
    public void A_lying_cylinder_may_lie_along_y()
    {
        const double r = 12;
        var along = Volume(TurnedBody.Prisms(TurnedBody.Profile([Rod(30, r)], 0.01), TurnedAxis.X, default, Tolerance));
        AssertRelative(along, Volume(TurnedBody.Prisms(TurnedBody.Profile([Rod(30, r)], 0.01), TurnedAxis.Y, default, Tolerance)), 1e-5);
    }

    [Fact]
    public void A_half_sphere_is_a_cap_on_a_cone()
    {
        const double r = 18;
        var (s, c, t) = (Math.Sin(Theta), Math.Cos(Theta), Math.Tan(Theta));
        var h = r * (1 - s);
        var cap = Math.PI * h * h * ((3 * r) - h) / 3;
        var (a, b) = (r * c, r / c);
        var expected = cap + (Math.PI * r * s / 3 * ((a * a) + (a * b) + (b * b)));
        Assert.Equal((r * c) + (r * s * t), r / c, 1e-9);
        AssertRelative(expected, Lying(Ball(r)), 3e-4);
        AssertRelative(expected, Volume(TurnedBody.Prisms(TurnedBody.Profile([Ball(r)], 0.01), TurnedAxis.Z, default, Tolerance)), 3e-4);
    }

    [Fact]
    public void A_half_torus_has_the_drafted_circle_all_round_inside_and_outside()
    {
        const double big = 25, r = 8;
        var profile = PlanPath.Circle(new(0, big), 2 * r);
        AssertRelative(2 * Math.PI * big * DraftedCircle(r), Volume(TurnedBody.Prisms(TurnedBody.Profile([profile], 0.01), TurnedAxis.Z, default, Tolerance)), 3e-4);
    }

    [Fact]
    public void A_half_torus_takes_hardly_more_facets_than_its_chords()
    {
        // Each chord of the profile makes one trapezoid with each side of the polygon, and a trapezoid two facets; ramps, rim and underside come on top.
        const double big = 70, r = 8;
        var prisms = TurnedBody.Prisms(TurnedBody.Profile([PlanPath.Circle(new(0, big), 2 * r)], 0.01), TurnedAxis.Z, default, Tolerance);
        var plateaus = TerrainBuild.Plateaus(prisms);
        var terrain = TerrainBuild.Terrain(prisms, Degrees, Tolerance);
        var mesh = TerrainBuild.Solid(terrain, Tolerance);
        MeshAssert.Valid(mesh);
        AssertRelative(2 * Math.PI * big * DraftedCircle(r), mesh.Volume(), 2e-4);
        Assert.InRange(mesh.Facets.Length, plateaus.Length, 3 * plateaus.Length);
    }

    [Fact]
    public void A_sharp_bend_of_an_upright_profile_is_told_and_the_chords_of_an_arc_are_not()
    {
        // An eight-sided rim: walls up to 4, slopes of 45° up to a flat top at 9.
        Vec2[] rim = [new(-9, 65), new(-4, 60), new(4, 60), new(9, 65), new(9, 73), new(4, 78), new(-4, 78), new(-9, 73)];
        Assert.Equal([4, 9], Bends(PlanPath.Polygon(rim)).Select(h => Math.Round(h, 3)));
        Assert.Empty(Bends(PlanPath.Circle(new(0, 25), 16)));

        static IEnumerable<double> Bends(PlanPath profile) =>
            TerrainBuild.Terrain(TurnedBody.Prisms(TurnedBody.Profile([profile], 0.01), TurnedAxis.Z, default, Tolerance), Degrees, Tolerance).Bends;
    }

    [Fact]
    public void An_upright_frustum_that_draws_by_itself_stays_as_it_is()
    {
        const double a = 20, b = 12, h = 9;
        var profile = PlanPath.Polygon(new Vec2(0, 0), new(h, 0), new(h, b), new(0, a));
        AssertRelative(Math.PI * h / 3 * ((a * a) + (a * b) + (b * b)), Volume(TurnedBody.Prisms(TurnedBody.Profile([profile], 0.01), TurnedAxis.Z, default, Tolerance)), 2e-4);
    }

    [Fact]
    public void An_upright_frustum_steeper_than_the_draft_gets_the_draft()
    {
        const double a = 20, b = 19.9, h = 30;
        var profile = PlanPath.Polygon(new Vec2(0, 0), new(h, 0), new(h, b), new(0, a));
        var foot = b + (h * Math.Tan(Theta));
        AssertRelative(Math.PI * h / 3 * ((foot * foot) + (foot * b) + (b * b)), Volume(TurnedBody.Prisms(TurnedBody.Profile([profile], 0.01), TurnedAxis.Z, default, Tolerance)), 3e-4);
    }

    [Fact]
    public void A_lying_vee_pulley_draws_and_is_nowhere_below_the_part()
    {
        // Groove, rim, web and hubs; compared with points of the true surface under the cone.
        var profile = PlanPath.Polygon(
            new Vec2(-14, 0), new(14, 0), new(14, 11), new(5, 11), new(5, 26), new(9, 26), new(9, 36), new(4, 27.5), new(-4, 27.5), new(-9, 36),
            new(-9, 26), new(-5, 26), new(-5, 11), new(-14, 11));
        AssertIsDrafted(profile);
    }

    [Fact]
    public void Random_turned_profiles_are_valid_drafted_and_within_tolerance_of_the_true_envelope()
    {
        var random = new Random(11);
        for (var i = 0; i < 6; i++)
        {
            var count = random.Next(2, 6);
            var xs = Enumerable.Range(0, count + 1).Select(_ => random.NextDouble()).Order().Select(u => (u * 50) - 25).ToArray();
            var corners = new List<Vec2> { new(xs[0], 0) };
            for (var k = 0; k <= count; k++)
            {
                corners.Add(new(xs[k], 4 + (20 * random.NextDouble())));
                if (k > 0 && k < count && random.Next(2) == 0) corners.Add(new(xs[k], 4 + (20 * random.NextDouble())));
            }

            corners.Add(new(xs[count], 0));
            corners.Reverse();
            AssertIsDrafted(PlanPath.Polygon([.. corners]));
        }
    }

    private static void AssertIsDrafted(PlanPath profile)
    {
        var prisms = TurnedBody.Prisms(TurnedBody.Profile([profile], 0.01), TurnedAxis.X, default, Tolerance);
        var terrain = TerrainBuild.Terrain(prisms, Degrees, Tolerance);
        var mesh = TerrainBuild.Solid(terrain, Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)}");

        var samples = Surface(profile).ToArray();
        var (box, random, k) = (mesh.Bounds(), new Random(3), 1 / Math.Tan(Theta));
        for (var i = 0; i < 300; i++)
        {
            var p = new Vec2(box.Low.X + (random.NextDouble() * box.Size.X), box.Low.Y + (random.NextDouble() * box.Size.Y));
            var truth = Math.Max(Above(profile, p), samples.Max(q => q.Z - (k * Vec2.Distance(q.Plan, p))));
            var here = terrain.At(p);
            var across = 1 / Math.Sqrt(1 + here.Gradient.LengthSquared);
            Assert.True((truth - here.Height) * across <= Tolerance, $"at {p} {truth - here.Height} mm below the true body");
            // The polygon and the planes at corners stand out by a tolerance each; samples on an edge may miss the best point by 0.02 mm.
            Assert.True((here.Height - truth) * Math.Sin(Theta) <= (2 * Tolerance) + 0.02, $"at {p} {here.Height - truth} mm above the true envelope");
        }
    }

    /// <summary>Height of the true surface over a point, 0 beside it.</summary>
    private static double Above(PlanPath profile, Vec2 p)
    {
        var corners = profile.Flatten(0.01);
        return corners.Select((a, i) => (a, b: corners[(i + 1) % corners.Count])).Where(s => s.a.X != s.b.X && (p.X - s.a.X) * (p.X - s.b.X) <= 0)
            .Select(s => s.a.Y + ((p.X - s.a.X) / (s.b.X - s.a.X) * (s.b.Y - s.a.Y)))
            .Select(r => Math.Sqrt(Math.Max(0, (r * r) - (p.Y * p.Y)))).DefaultIfEmpty(0).Max();
    }

    /// <summary>Points of the upper half of the true surface of revolution, close together where it is steep and on its rings.</summary>
    private static IEnumerable<Vec3> Surface(PlanPath profile)
    {
        var corners = profile.Flatten(0.01);
        for (var i = 0; i < corners.Count; i++)
        {
            var (a, b) = (corners[i], corners[(i + 1) % corners.Count]);
            // The surface is as steep as the draft where sin φ = √(1 + r'²) tan θ.
            var steepest = Math.Tan(Theta) * Vec2.Distance(a, b) / Math.Abs(b.X - a.X);
            foreach (var q in Between(a, b, 0.03))
                foreach (var angle in Enumerable.Range(0, 41).Select(j => 1.2 / 40 * j * Math.Asin(Math.Min(0.95, steepest))))
                {
                    yield return At(q, angle);
                    yield return At(q, Math.PI - angle);
                }

            foreach (var p in Ring(a, 0.02)) yield return p;
        }

        static IEnumerable<Vec2> Between(Vec2 a, Vec2 b, double spacing)
        {
            var steps = (int)Math.Ceiling(Vec2.Distance(a, b) / spacing);
            return Enumerable.Range(0, steps + 1).Select(s => a + (s / (double)steps * (b - a)));
        }

        static IEnumerable<Vec3> Ring(Vec2 q, double spacing)
        {
            var turns = Math.Max(1, (int)Math.Ceiling(Math.PI * q.Y / spacing));
            return Enumerable.Range(0, turns + 1).Select(j => At(q, Math.PI * j / turns));
        }

        static Vec3 At(Vec2 q, double angle)
        {
            var (sin, cos) = Math.SinCos(angle);
            return new(q.X, q.Y * cos, q.Y * sin);
        }
    }

    private static double DraftedCircle(double r)
    {
        // Two arcs from the height r sin θ to the top, and two trapezoids under the tangents.
        var (s, c, t) = (Math.Sin(Theta), Math.Cos(Theta), Math.Tan(Theta));
        var segment = r * r * ((Math.PI / 2) - Theta - (s * c));
        return segment + (r * s * ((r / c) + (r / c) - (r * s * t)));
    }

    private static PlanPath Rod(double length, double radius) =>
        PlanPath.Polygon(new Vec2(-length / 2, 0), new(length / 2, 0), new(length / 2, radius), new(-length / 2, radius));

    private static PlanPath Ball(double radius) => new([new(new(radius, 0), 1), new(new(-radius, 0))], true);

    private static double Lying(PlanPath profile) => Volume(TurnedBody.Prisms(TurnedBody.Profile([profile], 0.01), TurnedAxis.X, default, Tolerance));

    private static double Volume(IReadOnlyList<Prism> prisms)
    {
        var mesh = TerrainBuild.Solid(TerrainBuild.Terrain(prisms, Degrees, Tolerance), Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
        return mesh.Volume();
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
