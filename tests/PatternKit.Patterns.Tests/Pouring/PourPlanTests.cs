using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Pouring;

/// <summary>Flask, sand, melt, vents and waiting of a plate whose every size is known.</summary>
public sealed class PourPlanTests
{
    private const string Flasks = """
        [[flask]]
        name = "low"
        length_mm = 400
        width_mm = 300
        cope_mm = 60
        drag_mm = 60
        [[flask]]
        name = "large"
        length_mm = 400
        width_mm = 300
        cope_mm = 100
        drag_mm = 60
        cope_kg = 5
        [[flask]]
        name = "across"
        length_mm = 122
        width_mm = 190
        cope_mm = 80
        drag_mm = 60
        [[flask]]
        name = "narrow"
        length_mm = 300
        width_mm = 115
        cope_mm = 80
        drag_mm = 60

        """;

    private static Job Plate => Of(Block(-60, -30, 60, 30, 0, 12)).Bare(2, joint_mm: 0) with { Gating = new(Wanted: false) };

    private static PourPlan In(string shop, Job? job = null) => Built(shop, job).Pouring!;

    private static Kit Built(string shop, Job? job = null) => KitBuilder.Build(job ?? Plate, FoundryTables.Default.With(shop, "shop.toml"));

    // 120.84 x 60.84 mm at the joint and 30 mm of sand on all sides, 40 mm below, the head above.
    [Fact]
    public void The_least_flask_leaves_the_sand_of_the_table_on_all_sides()
    {
        var f = In("").Flask;
        Assert.Equal((181.0, 121.0, 75.0, 40.0), (f.Length_mm, f.Width_mm, f.Cope_mm, f.Drag_mm));
        Assert.Null(f.Owned);
        Assert.Equal(0, f.Listed);
        Assert.True(Vec2.Distance(f.Middle_mm, default) < 1e-9);
    }

    // "low" has too little over the casting, "narrow" too little beside it; "across" does with its length along y.
    [Fact]
    public void The_smallest_flask_that_does_is_taken_either_way_round()
    {
        var f = In(Flasks).Flask;
        Assert.Equal(("across", true), (f.Owned!.Name, f.IsTurned));
        Assert.Equal((190.0, 122.0), f.Inside);
        Assert.Equal("large", In(Flasks.Replace("122", "120", StringComparison.Ordinal)).Flask.Owned!.Name);
    }

    [Fact]
    public void A_shop_without_a_flask_that_does_is_told_what_is_needed()
    {
        var kit = Built("[[flask]]\nname = \"low\"\nlength_mm = 400\nwidth_mm = 300\ncope_mm = 60\ndrag_mm = 60\n");
        var finding = Assert.Single(kit.Findings, f => f.Code == "over-flask");
        Assert.Equal(Severity.Warn, finding.Severity);
        Assert.Equal(15, finding.Value!.Value, 1e-9);
        Assert.Contains("181 × 121 mm", finding.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(In(Flasks).Findings, f => f.Code == "over-flask");
    }

    // Inside less pattern, by the densities of the table; weights by hand.
    [Fact]
    public void Sand_and_balance_are_those_of_the_flask_less_the_pattern()
    {
        var kit = Built(Flasks.Replace("122", "120", StringComparison.Ordinal));
        var p = kit.Pouring!;
        var density = FoundryTables.Default.Sand("oil-bonded").Density_kg_m3.Value;
        // No higher than the basin, though the flask is deeper.
        Assert.Equal(75, p.Sand.CopeDepth_mm);
        var cope_mm3 = (400.0 * 300 * 75) - kit.Unpocketed_mm3();
        Assert.Equal(cope_mm3 * 1e-9 * density, p.Sand.Cope_kg, 1e-4);
        Assert.Equal(400.0 * 300 * 60 * 1e-9 * density, p.Sand.Drag_kg, 1e-9);
        Assert.Equal(p.Sand.Cope_kg * 9.81, p.Balance!.Sand_N, 0.01);
        Assert.Equal(5 * 9.81, p.Balance!.Flask_N, 1e-9);
        // The top and four slanting walls; the joint is none.
        var slant = 12 / Math.Cos(2 * KitCheck.Degree);
        // Draft leads the walls round the corners: half way up the outline is longer by the circle of half the run.
        Assert.Equal((120.0 * 60) + (slant * ((2 * (120 + 60)) + (2 * Math.PI * 6 * Math.Tan(2 * KitCheck.Degree)))), p.Sand.Skin_mm2, 1.0);
        Assert.Equal(p.Sand.Total_kg, p.Sand.Facing_kg + p.Sand.Backing_kg, 1e-12);
        Assert.Equal(p.Sand.Skin_mm2 * 15e-9 * density, p.Sand.Facing_kg, 1e-9);
    }

    [Fact]
    public void A_cope_that_floats_is_warned_of_and_a_heavy_one_is_not()
    {
        var iron = Plate with { Alloy = "gray-iron" };
        var light = Built("", iron);
        var warned = Assert.Single(light.Findings, f => f.Code == "cope-lift");
        var b = light.Pouring!.Balance!;
        Assert.Equal(b.Net_N > 0 ? Severity.Warn : Severity.Note, warned.Severity);
        Assert.Contains("until the casting is solid", warned.Remedy!, StringComparison.Ordinal);
        Assert.Equal((1.5 * b.Lift_N) - b.Held_N, b.Added_N, 1e-9);
        Assert.DoesNotContain(Built("[[flask]]\nname = \"heavy\"\nlength_mm = 400\nwidth_mm = 300\ncope_mm = 80\ndrag_mm = 60\ncope_kg = 30\n", iron).Findings, f => f.Code == "cope-lift");
    }

    // Melt over the density of the liquid; 2.4 kg of aluminium are a litre by the table.
    [Theory]
    [InlineData("", null, null)]
    [InlineData("[[crucible]]\nname = \"thimble\"\naluminium_kg = 0.1\n", null, Severity.Stop)]
    [InlineData("[[crucible]]\nname = \"thimble\"\naluminium_kg = 0.1\n[[crucible]]\nname = \"big\"\nbrim_litre = 5\n[[crucible]]\nname = \"A2\"\naluminium_kg = 1\n", "A2", null)]
    public void The_smallest_crucible_that_takes_the_melt_is_named(string shop, string? name, Severity? severity)
    {
        var kit = Built(shop);
        var melt = kit.Pouring!.Melt;
        Assert.Equal(name, melt.Crucible?.Name);
        Assert.Equal(severity, kit.Findings.FirstOrDefault(f => f.Code == "over-crucible")?.Severity);
        Assert.Equal(melt.Metal.Melt_kg / kit.Pouring.Metal_kg_m3.Value * 1000, melt.Liquid_litre, 1e-12);
    }

    [Fact]
    public void More_than_one_person_lifts_is_told()
    {
        Assert.DoesNotContain(Built("").Findings, f => f.Code == "over-lift");
        var finding = Assert.Single(Built("[melting]\nlift_kg = 0.2\n").Findings, f => f.Code == "over-lift");
        Assert.Equal((Severity.Warn, 0.2), (finding.Severity, finding.Limit!.Value));
    }

    // A tower on a plate: its top is vented, and no place of the cavity lies farther from a vent or ingate than told.
    [Fact]
    public void Vents_stand_on_the_high_place_and_leave_no_place_far_from_one()
    {
        var job = Of(Block(-60, -30, 60, 30, 0, 12), Block(30, 5, 50, 25, 12, 30, name: "tower")).Bare(2, joint_mm: 0) with { Gating = null };
        var kit = KitCheck.Build(job);
        var v = kit.Pouring!.Vents;
        Assert.Equal(VentPlace.HighPlace, v.Vents[0].Place);
        Assert.True(Vec2.Distance(v.Vents[0].At_mm, kit.Scale * new Vec2(40, 15)) < 0.1);
        Assert.Equal(kit.Pouring.Head_mm.Value - (30 * kit.Scale) - v.Short_mm.Value, v.Vents[0].Depth_mm, 0.01);
        var mouths = kit.Gating!.Bars.Where(b => b.Kind == BarKind.Ingate).Select(b => b.Plan.Centroid).ToArray();
        for (var x = -58; x <= 58; x += 4)
            for (var y = -28; y <= 28; y += 4)
                Assert.True(v.Vents.Select(p => p.At_mm).Concat(mouths).Min(p => Vec2.Distance(p, new(x, y))) < v.Spacing_mm.Value + 20);
        Assert.All(v.Vents.Where(p => p.Place == VentPlace.FarEnd), p => Assert.True(kit.Plan.CopeOutline.Contains(p.At_mm)));
        // The first of the others is the end farthest from the ingate and the tower.
        Assert.True(v.Vents[1].At_mm.X * Math.Sign(v.Vents[0].At_mm.X) < 0);
    }

    // A lying core is led out at both ends of it.
    [Fact]
    public void The_core_of_the_pedestal_is_vented_at_both_prints()
    {
        var kit = KitCheck.Build(KitCheck.Template("bearing-pedestal"));
        var prints = kit.Pouring!.Vents.Vents.Where(v => v.Place == VentPlace.CorePrint).ToArray();
        Assert.Equal(["core-1", "core-1"], prints.Select(p => p.Core));
        Assert.Equal(prints[0].At_mm.X, -prints[1].At_mm.X, 1e-6);
        Assert.All(kit.Pouring.Vents.Pricked, v => Assert.DoesNotContain(kit.Cores[0].Plans, p => p.Contains(v.At_mm)));
    }

    // Twelve millimetres of aluminium: the least wait. A post of 40 mm of iron on a plate, its draft at the foot on top: an hour and a half and more.
    [Fact]
    public void The_wait_goes_by_the_thickest_section()
    {
        Assert.Equal(12, In("").ShakeOut.Section_mm, 0.1);
        Assert.Equal(15, In("").ShakeOut.Wait_minutes.Value);
        var post = KitCheck.Build(Of(Block(-60, -30, 60, 30, 0, 12), Round(0, 0, 40, 12, 60)).Bare(2, joint_mm: 0) with { Alloy = "gray-iron" });
        Assert.InRange(post.Pouring!.ShakeOut.Section_mm, 38, 46);
        Assert.Equal(post.Pouring.ShakeOut.Section_mm * 60 / 25, post.Pouring.ShakeOut.Wait_minutes.Value, 1e-9);
    }

    [Theory]
    [InlineData("bearing-pedestal")]
    [InlineData("handwheel")]
    [InlineData("vee-pulley")]
    public void Every_template_can_be_planned_and_its_sand_is_positive(string template)
    {
        var p = KitCheck.Build(KitCheck.Template(template)).Pouring!;
        Assert.True(p.Sand.Cope_kg > 0 && p.Sand.Drag_kg > 0 && p.Balance!.Lift_N > 0 && p.ShakeOut.Section_mm > 0);
        Assert.NotEmpty(p.Vents.Pricked);
    }
}
