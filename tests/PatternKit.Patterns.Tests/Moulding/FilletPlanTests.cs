using System.Collections.Immutable;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Moulding;

/// <summary>Radii against the rule of the table (a third of the thicker wall, 3 mm at least; common practice) and closed forms of what they add.</summary>
public sealed class FilletPlanTests
{
    private static readonly ImmutableDictionary<string, double> NoNames = ImmutableDictionary<string, double>.Empty;

    [Fact]
    public void A_radius_given_is_made_and_its_volume_stands_in_the_bridge()
    {
        var kit = Build(new(3, NoNames), Boss(30));
        KitCheck.Sound(kit);
        // Straight stretches of 30 mm on four sides, and the wedge turned by 360° about the four corners (Pappus): 2° of draft, 18 mm high.
        var theta = 2 * KitCheck.Degree;
        var area = 9 * (Math.Tan((Math.PI / 4) - (theta / 2)) - (((Math.PI / 2) - theta) / 2));
        var run = 18 * Math.Tan(theta);
        Assert.InRange(kit.Bridge.Fillet_mm3, (120 + (2 * Math.PI * run)) * area, (120 + (2 * Math.PI * (run + 1.2))) * area);
        Assert.Equal(3, Radius(kit));
    }

    [Theory]
    [InlineData(12, 30, 10)] // 30 mm of metal (12 + 18) where the boss is: a third of it
    [InlineData(6, 5, 3)] // a third of 6 mm is less than the least of 3 mm
    [InlineData(12, 14, 4)] // a third of 14 mm is 4.67; 4 is the next of the series
    public void By_rule_the_radius_is_a_third_of_the_thicker_wall_and_three_millimetres_at_least(double plate_mm, double boss_mm, double radius_mm)
    {
        var half = boss_mm / 2;
        var job = Jobs.Of(Jobs.Block(-60, -60, 60, 60, 0, plate_mm), Jobs.Block(-half, -half, half, half, 0, plate_mm + 18, name: "boss")).Bare(2, joint_mm: 0);
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Fillet = null } });
        KitCheck.Sound(kit);
        Assert.Equal(radius_mm, Radius(kit));
        Assert.DoesNotContain(kit.Findings, f => f.Code == "fillet-capped");
    }

    [Fact]
    public void None_leaves_the_pattern_sharp()
    {
        var kit = Build(new(0, NoNames), Boss(30));
        Assert.Equal(0, kit.Bridge.Fillet_mm3);
    }

    [Fact]
    public void A_feature_named_with_nought_stays_sharp_and_the_others_do_not()
    {
        Feature[] others = [Jobs.Block(-40, -10, -20, 10, 0, 30, name: "left"), Jobs.Block(20, -10, 40, 10, 0, 30, name: "right")];
        var both = Build(new(3, NoNames), others);
        var one = Build(new(null, NoNames.Add("left", 0).Add("right", 3)), others);
        KitCheck.Sound(one);
        Assert.Equal(both.Bridge.Fillet_mm3 / 2, one.Bridge.Fillet_mm3, 0.05);
    }

    [Fact]
    public void A_low_pad_gets_no_more_than_its_wall_can_carry_and_the_kit_says_so()
    {
        var kit = Build(new(5, NoNames), Jobs.Block(-15, -15, 15, 15, 0, 13.5, name: "pad"));
        KitCheck.Sound(kit);
        // r (1 − sin θ) ≤ 1.5 mm: 1.55 mm, of the series 1.5.
        Assert.Equal(1.5, Radius(kit));
        var finding = Assert.Single(kit.Findings, f => f.Code == "fillet-capped");
        Assert.Equal((1.5, 5.0), (finding.Value, finding.Limit));
    }

    [Fact]
    public void Between_two_walls_a_third_of_the_floor_stays_flat()
    {
        var kit = Build(new(6, NoNames), Jobs.Block(-30, -15, -4, 15, 0, 30, name: "left"), Jobs.Block(4, -15, 30, 15, 0, 30, name: "right"));
        KitCheck.Sound(kit);
        // 8 mm less the run of both walls, 1.26 mm: the foot r tan(45° − θ/2) may take 2.25 mm, so r ≤ 2.33; of the series 2.
        Assert.Equal(2, Radius(kit));
        Assert.Contains(kit.Findings, f => f.Code == "fillet-capped" && f.Message.Contains("narrow", StringComparison.Ordinal));
    }

    [Fact]
    public void A_recess_from_below_has_the_fillet_of_one_from_above()
    {
        var job = Jobs.Of(Jobs.Block(-60, -40, 60, 40, 0, 30)).Bare(2, joint_mm: 0);
        Kit With(double low, double high) => KitCheck.Build(job with
        {
            Features = job.Features.Add(Jobs.Round(5, 0, 40, low, high, CutKind.Drawn, "recess")),
            Pattern = job.Pattern with { Fillet = new(3, NoNames) },
        });
        var (above, below) = (With(12, 30), With(0, 18));
        KitCheck.Sound(below);
        // Pappus: the wedge turned about the axis, its centroid between the foot and 0.223 r inside it (Bronstein).
        var theta = 2 * KitCheck.Degree;
        var area = 9 * (Math.Tan((Math.PI / 4) - (theta / 2)) - (((Math.PI / 2) - theta) / 2));
        var foot = 20 - (18 * Math.Tan(theta));
        Assert.InRange(below.Bridge.Fillet_mm3, 2 * Math.PI * (foot - 1) * area, 2 * Math.PI * foot * area);
        Assert.Equal(above.Bridge.Fillet_mm3, below.Bridge.Fillet_mm3, 0.02);
        Assert.Equal(3, Radius(below));
    }

    private static Feature Boss(double height_mm) => Jobs.Block(-15, -15, 15, 15, 0, height_mm, name: "boss");

    private static double Radius(Kit kit) => Assert.Single(kit.Decisions, d => d.Key.StartsWith("fillet_cope", StringComparison.Ordinal)).Value;

    private static Kit Build(RadiusSettings fillet, params Feature[] rising)
    {
        var job = Jobs.Of([Jobs.Block(-60, -40, 60, 40, 0, 12), .. rising]).Bare(2, joint_mm: 0);
        return KitCheck.Build(job with { Pattern = job.Pattern with { Fillet = fillet } });
    }
}
