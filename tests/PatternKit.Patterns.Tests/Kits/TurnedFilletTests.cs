using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Fillets of lying turned bodies, against solids of revolution by Pappus' theorem: 2 π × distance of the section's centroid × its area.</summary>
public sealed class TurnedFilletTests
{
    private const double Hub = 16, Rim = 40, Wanted = 3;

    private static readonly Feature Wheel = Turned("wheel", new(-10, 0), new(10, 0), new(10, Rim), new(-10, Rim));
    private static readonly Feature Boss = Turned("boss", new(10, 0), new(30, 0), new(30, Hub), new(10, Hub));

    private static readonly double Draft = 2 * KitCheck.Degree;

    /// <summary>A little wider than asked for, so that the draft of the wheel's wall leaves it.</summary>
    private static double Radius(double wanted = Wanted) => wanted + ((Math.Sqrt(2) - 1) * Rim * Math.Tan(Draft));

    /// <summary>
    /// What a corner of 90° and the draft holds at a distance from the axis, between both tangents of length r / tan(α / 2) and the arc: the area of the kite less that of the sector,
    /// and its centroid off the hub from theirs (the sector's lies 4 r sin(φ/2) / 3φ from the centre, φ = π − α).
    /// </summary>
    private static double Corner(double at, double r)
    {
        var alpha = (Math.PI / 2) + Draft;
        var phi = Math.PI - alpha;
        var tangent = r / Math.Tan(alpha / 2);
        var (kite, sector) = (r * tangent, r * r * phi / 2);
        // Heights over the hub: the kite's centroid from its four corners split along the diagonal from corner to centre.
        var onWall = tangent * Math.Sin(alpha);
        var kiteAt = (((0 + 0 + r) / 3) + ((0 + onWall + r) / 3)) / 2;
        // The sector opens from straight down, towards the hub, by φ towards the wall.
        var sectorAt = r - (4 * r * Math.Sin(phi / 2) / (3 * phi) * Math.Cos(phi / 2));
        var area = kite - sector;
        return 2 * Math.PI * (at + (((kite * kiteAt) - (sector * sectorAt)) / area)) * area;
    }

    [Fact]
    public void The_corner_between_hub_and_wheel_holds_a_ring_under_an_arc()
    {
        var kit = KitCheck.Build(Job(Wheel, Boss));
        KitCheck.Sound(kit);
        AssertRelative(Corner(Hub, Radius()), kit.Bridge.Fillet_mm3, 0.01);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "square-corner");
        var decision = Assert.Single(kit.Decisions, d => d.Key == "fillet_turned_mm");
        Assert.Equal(Wanted, decision.Value);

        // At the joint the wall of the wheel has run out by its whole height there; between it and the hub the arc is left.
        var (r, joint) = (Wanted, kit.Plan.CopeOutline);
        var wall = 10 + (Math.Tan(Draft) * Math.Sqrt((Rim * Rim) - (Hub * Hub)));
        Assert.True(joint.Contains(new(wall + (0.25 * r), Hub + (0.25 * r))));
        Assert.False(joint.Contains(new(wall + (0.5 * r), Hub + (0.5 * r))));
    }

    [Fact]
    public void One_profile_or_several_features_about_one_axis_come_out_alike()
    {
        var whole = Turned("whole", new(-10, 0), new(30, 0), new(30, Hub), new(10, Hub), new(10, Rim), new(-10, Rim));
        var (one, two) = (KitCheck.Build(Job(whole)), KitCheck.Build(Job(Wheel, Boss)));
        AssertRelative(one.Bridge.Fillet_mm3, two.Bridge.Fillet_mm3, 1e-3);
        // Along the axis, a profile begins where its feature says.
        var moved = Boss with { Loops = [PlanPath.Polygon([new(0, 0), new(20, 0), new(20, Hub), new(0, Hub)])], Turned = new(TurnedAxis.X, new(10, 0, 0)) };
        AssertRelative(one.Bridge.Fillet_mm3, KitCheck.Build(Job(Wheel, moved)).Bridge.Fillet_mm3, 1e-3);
    }

    /// <summary>Walls that a disc of the wanted width touches at their ends only, at the crest of a groove much wider than its sand is deep, are no slot.</summary>
    [Fact]
    public void The_crest_of_a_wide_groove_holds_no_narrow_sand()
    {
        var roller = Turned("roller", new(-20, 0), new(20, 0), new(20, 30), new(8, 30), new(8, 22), new(-8, 22), new(-8, 30), new(-20, 30));
        Assert.DoesNotContain(KitCheck.Build(Job(roller)).Findings, f => f.Code == "sand-tongue" && Math.Abs(f.At_mm!.Value.Y) < 10);
    }

    [Fact]
    public void A_drawn_groove_about_the_axis_is_rounded_at_its_bottom_and_a_hole_through_the_fillet_stays()
    {
        var wide = Turned("wide", new(-20, 0), new(20, 0), new(20, Rim), new(-20, Rim));
        var groove = Turned("groove", new(-12, 30), new(12, 30), new(12, Rim + 1), new(-12, Rim + 1)) with { Cut = CutKind.Drawn };
        var kit = KitCheck.Build(Job(wide, groove));
        KitCheck.Sound(kit);
        AssertRelative(2 * Corner(30, Radius()), kit.Bridge.Fillet_mm3, 0.01);

        var drilled = KitCheck.Build(Job(Wheel, Boss, Block(6, -3, 16, 3, -Rim - 1, Rim + 1, CutKind.Drawn)));
        KitCheck.Sound(drilled);
        Assert.InRange(drilled.Bridge.Fillet_mm3, 0.5 * Corner(Hub, Radius()), 0.99 * Corner(Hub, Radius()));
    }

    [Fact]
    public void Where_something_is_cut_between_the_features_the_corner_stays_and_is_told()
    {
        var kit = KitCheck.Build(Job(Wheel, Block(-8, -5, 8, 5, -Rim - 1, Rim + 1, CutKind.Drawn), Boss));
        Assert.DoesNotContain(kit.Decisions, d => d.Key == "fillet_turned_mm");
        Assert.Contains(kit.Findings, f => f.Code == "square-corner");
    }

    [Fact]
    public void Names_and_lengths_of_the_job_hold()
    {
        Assert.Equal(0, KitCheck.Build(With(0, [], Wheel, Boss)).Bridge.Fillet_mm3, 1e-9);
        AssertRelative(Corner(Hub, Radius(5)), KitCheck.Build(With(5, [], Wheel, Boss)).Bridge.Fillet_mm3, 0.01);
        AssertRelative(Corner(Hub, Radius(2)), KitCheck.Build(With(null, new() { ["boss"] = 2 }, Wheel, Boss)).Bridge.Fillet_mm3, 0.01);
        Assert.Equal(0, KitCheck.Build(With(null, new() { ["boss"] = 0 }, Wheel, Boss)).Bridge.Fillet_mm3, 1e-9);
    }

    [Fact]
    public void A_narrow_groove_holds_the_radius_back_and_that_is_told()
    {
        var grooved = Turned(
            "sheave", new(-16, 0), new(16, 0), new(16, Rim), new(2.2, Rim), new(2.2, 34), new(-2.2, 34), new(-2.2, Rim), new(-16, Rim));
        var kit = KitCheck.Build(Job(grooved));
        var finding = Assert.Single(kit.Findings, f => f.Code == "fillet-capped");
        Assert.Contains("sheave", finding.Message, StringComparison.Ordinal);
        Assert.InRange(finding.Value!.Value, 1, 2.2);
        Assert.Equal(34, new Vec2(finding.At_mm!.Value.Y, finding.At_mm.Value.Z).Length, 0.1);
    }

    private static Job Job(params Feature[] features) => With(null, [], features);

    private static Job With(double? all, Dictionary<string, double> names, params Feature[] features)
    {
        var job = Of(features).Bare(2);
        return job with { Pattern = job.Pattern with { Fillet = all is null && names.Count == 0 ? null : new(all, names.ToImmutableDictionary()) } };
    }

    private static Feature Turned(string name, params Vec2[] profile) => new(
        name, null, [PlanPath.Polygon(profile)], -profile.Max(p => p.Y), profile.Max(p => p.Y), CutKind.None, "job.toml, line 5", new(TurnedAxis.X, default));

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs(actual - expected) <= tolerance * Math.Abs(expected), $"{actual} where {expected} is expected: {(actual / expected) - 1:P3} off");
}
