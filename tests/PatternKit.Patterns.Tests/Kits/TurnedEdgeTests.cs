using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Rounded edges of lying turned bodies, against solids of revolution by Pappus' theorem: 2 π × distance of the section's centroid × its area.</summary>
public sealed class TurnedEdgeTests
{
    private const double Rim = 40;

    private static readonly ImmutableDictionary<string, double> NoNames = ImmutableDictionary<string, double>.Empty;

    private static readonly Feature Wheel = Turned("wheel", new(-10, 0), new(10, 0), new(10, Rim), new(-10, Rim));

    /// <summary>A square of side r less a quarter of a disc: r² (1 − π/4), its centroid r (10 − 3π) / (3 (4 − π)) from either side of the corner.</summary>
    private static double Edge(double r) => 2 * Math.PI * (Rim - (r * (10 - (3 * Math.PI)) / (3 * (4 - Math.PI)))) * r * r * (1 - (Math.PI / 4));

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(5)]
    public void Both_edges_of_a_rim_lose_a_ring_outside_an_arc(double r)
    {
        var kit = KitCheck.Build(With(new(r, NoNames), Wheel));
        KitCheck.Sound(kit);
        AssertRelative(-2 * Edge(r), kit.Bridge.Round_mm3, 0.01);
        Assert.Equal(r, Assert.Single(kit.Decisions, d => d.Key == "round_turned_mm").Value);
        // In plan the corner is off the axis by no more than the arc lets it.
        Assert.False(kit.Plan.CopeOutline.Contains(new(10 - (0.1 * r), Rim - (0.1 * r))));
        Assert.True(kit.Plan.CopeOutline.Contains(new(10 - (0.4 * r), Rim - (0.4 * r))));
    }

    /// <summary>The hub's edge is as round as the wheel's; the corner between them is filled before.</summary>
    [Fact]
    public void Inside_corners_are_filled_and_outside_ones_rounded_in_one_profile()
    {
        Feature[] both = [Wheel, Turned("hub", new(10, 0), new(30, 0), new(30, 16), new(10, 16))];
        var (sharp, rounded) = (KitCheck.Build(Filleted(null)), KitCheck.Build(Filleted(new(2, NoNames))));
        KitCheck.Sound(rounded);
        Assert.Equal(sharp.Bridge.Fillet_mm3, rounded.Bridge.Fillet_mm3, 0.01 * sharp.Bridge.Fillet_mm3);
        Assert.Contains("3 corners", rounded.Decisions.Single(d => d.Key == "round_turned_mm").Rule, StringComparison.Ordinal);

        Job Filleted(RadiusSettings? round)
        {
            var job = With(round, both);
            return job with { Pattern = job.Pattern with { Fillet = null } };
        }
    }

    /// <summary>Between the end of a short hub and the fillet at its foot 2.6 mm are left, less than the radius: a smaller one comes out, and no lip.</summary>
    [Fact]
    public void An_edge_beside_a_fillet_gets_the_radius_that_fits_before_it()
    {
        Feature[] both = [Wheel, Turned("hub", new(10, 0), new(16.5, 0), new(16.5, 16), new(10, 16))];
        var job = With(new(4, NoNames), both);
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Fillet = null } });
        KitCheck.Sound(kit);
        Assert.InRange(Assert.Single(kit.Findings, f => f.Code == "round-capped").Value!.Value, 1, 2.6);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "undercut");
    }

    [Fact]
    public void The_edges_of_a_rim_narrower_than_two_radii_get_what_fits_and_that_is_told()
    {
        var kit = KitCheck.Build(With(new(3, NoNames), Turned("disc", new(-2, 0), new(2, 0), new(2, Rim), new(-2, Rim))));
        KitCheck.Sound(kit);
        var told = Assert.Single(kit.Findings, f => f.Code == "round-capped");
        Assert.Contains("disc", told.Message, StringComparison.Ordinal);
        Assert.InRange(told.Value!.Value, 0.6, 2);
        AssertRelative(-2 * Edge(told.Value.Value), kit.Bridge.Round_mm3, 0.01);
    }

    /// <summary>A foot as wide as the wheel lies flush with its faces: rounded, the wheel would leave a notch along it. A narrower one does not.</summary>
    [Theory]
    [InlineData(10, true)]
    [InlineData(8.5, true)]
    [InlineData(5, false)]
    public void Edges_that_another_feature_lies_against_stay_and_that_is_told(double halfWidth, bool isFlush)
    {
        var kit = KitCheck.Build(With(new(0, NoNames.Add("wheel", 3)), Wheel, Block(-halfWidth, -20, halfWidth, 20, -60, 0, name: "foot")));
        KitCheck.Sound(kit);
        if (isFlush) Assert.Equal(0, kit.Bridge.Round_mm3, 1e-9);
        else Assert.InRange(kit.Bridge.Round_mm3, -2 * Edge(3), -1.5 * Edge(3));
        Assert.Equal(isFlush, kit.Findings.Any(f => f.Code == "round-capped" && f.Message.Contains("lies against", StringComparison.Ordinal)));
    }

    /// <summary>A foot deeper than the spigot that runs through it: its edge goes all round, above turned ground.</summary>
    [Fact]
    public void A_flat_that_stands_above_turned_ground_has_its_edge_rounded()
    {
        var kit = KitCheck.Build(With(new(0, NoNames.Add("foot", 1.5)), Turned("spigot", new(0, 0), new(60, 0), new(60, 13), new(0, 13)), Block(20, -15, 46, 15, -32, 0, name: "foot")));
        KitCheck.Sound(kit);
        // Between a flat and a wall of the draft θ an arc leaves r² (tan(45° − θ/2) − (90° − θ)/2), along four straight sides and, round the corners of the plan, on a ring (Pappus; its
        // centroid as for θ = 0). The corners themselves lose r² (1 − π/4) over their height, before draft.
        const double r = 1.5;
        var theta = 2 * KitCheck.Degree;
        var area = r * r * (Math.Tan((Math.PI / 4) - (theta / 2)) - (((Math.PI / 2) - theta) / 2));
        var corner = r * (10 - (3 * Math.PI)) / (3 * (4 - Math.PI));
        AssertRelative(
            -(area * ((2 * (26 + 30)) - (8 * r) + (2 * Math.PI * (r - corner)))) - (4 * 32 * r * r * (1 - (Math.PI / 4))), kit.Bridge.Round_mm3, 0.01);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "round-capped");
    }

    private static readonly Gen<Job> Any = Gen.Select(
        Gen.Double[8, 25], Gen.Double[5, 28], Gen.Double[20, 50], Gen.Double[3, 18], Gen.Double[6, 35], Gen.Int[-45, -4], Gen.Int[0, 30], Gen.Int[1, 3]).Select(
        (radius, second, length, half, side, low, high, round) =>
        {
            var body = Turned("body", new(0, 0), new(length + 15, 0), new(length + 15, second), new(length, second), new(length, radius), new(0, radius));
            var job = With(new(round, NoNames), body, Block((length / 2) - half, -side, (length / 2) + half, side, low, high, name: "foot"));
            return job;
        });

    [Fact]
    public void The_kit_of_any_turned_body_with_a_foot_and_rounded_edges_is_sound() => Any.Sample(job => KitCheck.Sound(KitCheck.Build(job)), iter: 10, threads: 1, print: j =>
        string.Join("; ", j.Features.Select(f => FormattableString.Invariant($"{f.Name} {f.Low_mm}..{f.High_mm} {string.Join(' ', f.Loops.SelectMany(l => l.Vertices).Select(v => v.Point))} | {j.Pattern.Round}"))));

    private static Job With(RadiusSettings? round, params Feature[] features)
    {
        var job = Of(features).Bare(2);
        return job with { Pattern = job.Pattern with { Round = round, Fillet = new(0, NoNames) } };
    }

    private static Feature Turned(string name, params Vec2[] profile) => new(
        name, null, [PlanPath.Polygon(profile)], -profile.Max(p => p.Y), profile.Max(p => p.Y), CutKind.None, "job.toml, line 5", new(TurnedAxis.X, default));

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs(actual - expected) <= tolerance * Math.Abs(expected), $"{actual} where {expected} is expected: {(actual / expected) - 1:P3} off");
}
