using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Checks;

/// <summary>Parts with square corners planted, left square on request and rounded by rule; the limit is that of draw.toml.</summary>
public sealed class SquareCornerTests
{
    private static readonly RadiusSettings None = new(0, ImmutableDictionary<string, double>.Empty);

    [Fact]
    public void A_corner_between_upright_walls_is_found_where_it_was_put() =>
        Gen.Select(Gen.Double[-15, 15], Gen.Double[-10, 10], Gen.Double[3, 20], Gen.Bool, Gen.Double[0, 1.2]).Sample(
            (x, y, height, isCope, rounding) =>
            {
                var kit = Build(None, isCope ? 0 : height, Angle(x, y, height, rounding));
                var found = Assert.Single(kit.Findings, f => f.Code == "square-corner");
                Assert.Equal(Severity.Warn, found.Severity);
                Assert.Contains(isCope ? "cope" : "drag", found.Message, StringComparison.Ordinal);
                Assert.True(Vec2.Distance(new(x, y), found.At_mm!.Value.Plan) < 1.5, $"{found.At_mm} for ({x}, {y})");
                // Walls that lean out by draft move into a hollow corner and make it narrower; it is seen half way up.
                var half = Math.Max(0, rounding - (height / 2 * Math.Tan(2 * KitCheck.Degree)));
                Assert.InRange(found.Value!.Value, half - 0.3, half + 0.3);
                Assert.Equal(1.5, found.Limit);
            },
            iter: 30, threads: 1);

    [Fact]
    public void A_wall_on_a_flat_without_fillet_is_found() =>
        Gen.Select(Gen.Double[-20, 20], Gen.Double[-10, 10], Gen.Double[6, 30]).Sample(
            (x, y, height) =>
            {
                var kit = Build(None, 0, Block(-60, -40, 60, 40, 0, 8), Block(x - 12, y - 9, x + 12, y + 9, 0, 8 + height));
                var found = Assert.Single(kit.Findings, f => f.Code == "square-corner");
                Assert.Equal(0, found.Value);
                Assert.True(Vec2.Distance(new(x, y), found.At_mm!.Value.Plan) < 16);
            },
            iter: 10, threads: 1);

    [Fact]
    public void By_rule_nothing_stays_square_and_the_corner_holds_what_the_closed_form_says() =>
        Gen.Select(Gen.Double[-15, 15], Gen.Double[-10, 10], Gen.Double[3, 20]).Sample(
            (x, y, height) =>
            {
                var kit = Build(null, 0, Angle(x, y, height, 0));
                KitCheck.Sound(kit);
                Assert.DoesNotContain(kit.Findings, f => f.Code is "square-corner" or "fillet-capped");
                // (1 − π/4) r² of the plan over the whole height; the foot has R 3, the least fillet, and the tip the run of the draft more.
                var radius = 3 + (height * Math.Tan(2 * KitCheck.Degree));
                Assert.Equal((1 - (Math.PI / 4)) * radius * radius * height, kit.Bridge.Fillet_mm3, 0.02 * radius * radius * height);
                Assert.Equal(3, Assert.Single(kit.Decisions, d => d.Key == "fillet_corners_mm").Value);
            },
            iter: 6, threads: 1);

    [Theory]
    [InlineData(0.05)]
    [InlineData(0.1)]
    public void Where_arms_meet_a_hub_no_slit_that_rounding_leaves_beside_a_corner_is_told_as_a_hole(double rapping_mm)
    {
        // Every hole of the wheel is a window between its arms, many millimetres wide.
        var job = KitCheck.Template("handwheel");
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Rapping_mm = rapping_mm } });
        Assert.Contains(kit.Decisions, d => d.Key == "fillet_corners_mm");
        Assert.DoesNotContain(kit.Findings, f => f.Code == "deep-hole");
    }

    [Fact]
    public void A_corner_drawn_round_enough_stays_as_drawn()
    {
        var kit = Build(null, 0, Angle(0, 0, 12, 2));
        Assert.Equal(0, kit.Bridge.Fillet_mm3, 1e-9);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "square-corner");
    }

    [Fact]
    public void A_feature_named_with_nought_keeps_its_corner_and_is_told()
    {
        var kit = Build(new(null, ImmutableDictionary<string, double>.Empty.Add("angle", 0)), 0, Angle(0, 0, 12, 0));
        Assert.Equal(0, kit.Bridge.Fillet_mm3, 1e-9);
        Assert.Single(kit.Findings, f => f.Code == "square-corner");
    }

    /// <summary>An angle of two legs of 12 mm whose inside corner is at a place, rounded or not.</summary>
    private static Feature Angle(double x, double y, double height, double rounding)
    {
        const double leg = 30, wide = 12;
        PlanPath path = rounding == 0
            ? PlanPath.Polygon(new(x - wide, y - wide), new(x + leg, y - wide), new(x + leg, y), new(x, y), new(x, y + leg), new(x - wide, y + leg))
            : new([
                new(new(x - wide, y - wide)), new(new(x + leg, y - wide)), new(new(x + leg, y)),
                // A quarter of a turn to the right.
                new(new(x + rounding, y), -Math.Tan(Math.PI / 8)), new(new(x, y + rounding)), new(new(x, y + leg)), new(new(x - wide, y + leg)),
            ], closed: true);
        return new("angle", null, [path], 0, height, CutKind.None, "job.toml, line 7");
    }

    private static Kit Build(RadiusSettings? fillet, double joint_mm, params Feature[] features)
    {
        var job = Of(features).Bare(2, joint_mm: joint_mm);
        return KitCheck.Build(job with { Pattern = job.Pattern with { Fillet = fillet } });
    }
}
