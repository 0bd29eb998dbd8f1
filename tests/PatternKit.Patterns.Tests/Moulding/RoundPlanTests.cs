using System.Collections.Immutable;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Moulding;

/// <summary>Rounded edges of whole kits against closed forms: Steiner's formula for sections of offset rectangles, Pappus's theorem for rings.</summary>
public sealed class RoundPlanTests
{
    private static readonly ImmutableDictionary<string, double> NoNames = ImmutableDictionary<string, double>.Empty;

    [Theory]
    [InlineData(2, 3)]
    [InlineData(5, 4)]
    public void A_block_with_rounded_edges_and_arrises_holds_what_its_sections_sum_up_to(double degrees, double radius)
    {
        const double a = 60, b = 40, high = 20;
        var kit = Build(new(radius, NoNames), degrees, Jobs.Block(-a / 2, -b / 2, a / 2, b / 2, 0, high));
        KitCheck.Sound(kit);
        // Every section is the rectangle less r all round, moved outward by ρ: a′b′ + 2 (a′ + b′) ρ + π ρ² (Steiner). Where the arc runs, ρ
        // follows it; below, the wall.
        var theta = degrees * KitCheck.Degree;
        var reach = radius * Math.Tan((Math.PI / 4) - (theta / 2));
        double Section(double below)
        {
            var rho = below < radius * (1 - Math.Sin(theta))
                ? radius - reach + Math.Sqrt((radius * radius) - ((radius - below) * (radius - below)))
                : radius + (below * Math.Tan(theta));
            return ((a - (2 * radius)) * (b - (2 * radius))) + (2 * (a + b - (4 * radius)) * rho) + (Math.PI * rho * rho);
        }

        const int n = 20_000;
        var sum = 0.0;
        // Closer together at the top, where the arc begins level.
        for (var i = 0; i < n; i++)
        {
            var (from, to) = (high * i / n * i / n, high * (i + 1) / n * (i + 1) / n);
            sum += (to - from) * Section((from + to) / 2);
        }

        Assert.Equal(sum, kit.Unpocketed_mm3(), 2e-4 * sum);
        // Without rounding it is the drafted block: less is the rounding's.
        var sharp = Build(new(0, NoNames), degrees, Jobs.Block(-a / 2, -b / 2, a / 2, b / 2, 0, high));
        Assert.Equal(kit.Unpocketed_mm3() - sharp.Unpocketed_mm3(), kit.Bridge.Round_mm3 + kit.Bridge.Draft_mm3 - sharp.Bridge.Draft_mm3, 1e-4 * sum);
    }

    [Fact]
    public void Only_the_edges_of_a_named_part_are_rounded_and_lose_the_wedge_turned_about_the_axis()
    {
        const double radius = 2;
        var kit = Build(new(0, NoNames.Add("boss", radius)), 2, Jobs.Block(-60, -40, 60, 40, 0, 12), Jobs.Round(0, 0, 30, 0, 30, name: "boss"));
        KitCheck.Sound(kit);
        // Pappus: the wedge between top, wall and arc; its centroid lies 0.223 r inside the edge of a right angle (Bronstein), here nearly so.
        var theta = 2 * KitCheck.Degree;
        var area = radius * radius * (Math.Tan((Math.PI / 4) - (theta / 2)) - (((Math.PI / 2) - theta) / 2));
        Assert.Equal(-2 * Math.PI * (15 - (0.2234 * radius)) * area, kit.Bridge.Round_mm3, 0.02 * -kit.Bridge.Round_mm3);
        Assert.Equal(radius, Assert.Single(Radii(kit)));
    }

    [Fact]
    public void A_hole_named_with_nought_keeps_its_edge()
    {
        Feature[] part = [Jobs.Block(-40, -30, 40, 30, 0, 15, name: "plate"), Jobs.Round(0, 0, 24, 0, 15, CutKind.Drawn, name: "bore")];
        var (both, plate) = (Build(new(0, NoNames.Add("plate", 2)), 2, part), Build(new(0, NoNames.Add("plate", 2).Add("bore", 0)), 2, part));
        var solid = Build(new(0, NoNames.Add("plate", 2)), 2, part[0]);
        KitCheck.Sound(both);
        KitCheck.Sound(plate);
        Assert.Equal(solid.Bridge.Round_mm3, plate.Bridge.Round_mm3, 0.02);
        Assert.True(both.Bridge.Round_mm3 < plate.Bridge.Round_mm3 - 50, $"{both.Bridge.Round_mm3} against {plate.Bridge.Round_mm3} mm³");
    }

    [Fact]
    public void A_low_pad_and_a_narrow_rib_hold_the_radius_back_and_the_kit_says_so()
    {
        var kit = Build(
            new(4, NoNames), 2, Jobs.Block(-60, -40, 60, 40, 0, 20), Jobs.Block(-50, -30, -20, 30, 0, 21, name: "pad"), Jobs.Block(20, -30, 24, 30, 0, 40, name: "rib"));
        KitCheck.Sound(kit);
        // The pad keeps half its wall of 1 mm, r (1 − sin θ) ≤ 0.5: 0.52, of the series 0.4. Of the rib's 4 mm a third stays flat, so that
        // r tan(45° − θ/2) ≤ 1.33: 1.38, of the series 1.
        var findings = kit.Findings.Where(f => f.Code == "round-capped").ToArray();
        Assert.Equal([(1, 4.0), (0.4, 4.0)], findings.Select(f => (f.Value, f.Limit)));
        Assert.Contains("narrow", findings[0].Message, StringComparison.Ordinal);
        Assert.Contains("1 mm high", findings[1].Message, StringComparison.Ordinal);
        Assert.Equal([1, 0.4, 4], Radii(kit));
    }

    /// <summary>A web of 2 mm, 4 mm long, between a slot and the plate's side: a disc that rounds by 4 mm leaves less of it than of a sharp corner.</summary>
    [Fact]
    public void A_neck_shorter_than_the_radius_holds_it_back_too()
    {
        var kit = Build(new(4, NoNames), 2, Jobs.Block(-60, -40, 60, 40, 0, 20), Jobs.Block(-2, 0, 2, 38, -5, 25, CutKind.Drawn, name: "slot"));
        KitCheck.Sound(kit);
        // A third of the web stays flat: r tan(45° − θ/2) ≤ 0.67, so that r ≤ 0.69, of the series 0.6; both borders of the flat have it.
        Assert.Equal(0.6, Assert.Single(kit.Findings, f => f.Code == "round-capped").Value);
        Assert.Equal([0.6], Radii(kit).Distinct());
    }

    /// <summary>A slot drawn from below, bridged at one end, comes up through the flat 3 mm beside its edge.</summary>
    [Fact]
    public void A_hollow_of_the_underside_that_opens_beside_an_edge_holds_its_radius_back()
    {
        var kit = Build(
            new(4, NoNames), 2, Jobs.Block(-60, -40, 60, 40, 0, 20), Jobs.Block(-5, 0, 5, 37, -5, 20, CutKind.Drawn, name: "slot"), Jobs.Block(-20, 5, 20, 15, 20, 30, name: "bridge"));
        KitCheck.Sound(kit);
        // Of 3 mm a third stays flat: 1.04 at the most, less what draft takes on both sides.
        Assert.InRange(kit.Decisions.Single(d => d.Label.Contains("z = 20 mm", StringComparison.Ordinal) && d.Key.StartsWith("round_cope", StringComparison.Ordinal)).Value, 0.6, 1.04);
    }

    [Fact]
    public void Arrises_that_reach_the_joint_are_rounded_in_both_halves_or_in_none()
    {
        const double low = 1.5;
        Feature[] part = [Jobs.Block(-30, -20, 30, 20, -15, 0, name: "foot"), Jobs.Block(-30, -20, 30, 20, 0, 15, name: "head")];
        var both = Build(new(3, NoNames), 2, part);
        var head = Build(new(0, NoNames.Add("head", 3)), 2, part);
        var square = Build(new(0, NoNames), 2, part);
        KitCheck.Sound(both);
        KitCheck.Sound(head);
        // Low on the wall, above the marks in the joint face, the section is the block's outline moved out by the run of draft, its corners struck
        // by 3 mm more.
        var run = (15 - low) * Math.Tan(2 * KitCheck.Degree);
        double Foot(double r) => ((60 - (2 * r)) * (40 - (2 * r))) + (2 * (100 - (4 * r)) * (r + run)) + (Math.PI * (r + run) * (r + run));
        Assert.Equal(Foot(3), both.Cope().Section(low).Area, 0.5);
        Assert.Equal(Foot(3), both.Drag().Section(-low).Area, 0.5);
        Assert.Equal(square.Cope().Section(low).Area, head.Cope().Section(low).Area, 0.01);
        Assert.True(head.Bridge.Round_mm3 < 0);
    }

    [Fact]
    public void Left_out_edges_stay_sharp_and_by_rule_they_are_broken_by_one_millimetre()
    {
        var none = Build(null, 2, Jobs.Block(-30, -20, 30, 20, 0, 15));
        Assert.Equal(0, none.Bridge.Round_mm3);
        var decision = Assert.Single(none.Decisions, d => d.Key == "round_mm");
        Assert.Equal((0, "common practice"), (decision.Value, decision.Source));
        var rule = Build(new(null, NoNames), 2, Jobs.Block(-30, -20, 30, 20, 0, 15));
        Assert.Equal(1, Assert.Single(Radii(rule)));
    }

    private static double[] Radii(Kit kit) => [.. kit.Decisions.Where(d => d.Key.StartsWith("round_cope", StringComparison.Ordinal)).Select(d => d.Value)];

    private static Kit Build(RadiusSettings? round, double degrees, params Feature[] features)
    {
        var job = Jobs.Of(features).Bare(degrees, joint_mm: 0);
        return KitCheck.Build(job with { Pattern = job.Pattern with { Round = round } });
    }
}
