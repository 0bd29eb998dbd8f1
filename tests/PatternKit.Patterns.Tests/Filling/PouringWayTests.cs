using PatternKit.Foundry;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Filling;

/// <summary>Ways to pour one casting, side by side.</summary>
public class PouringWayTests
{
    // A strainer cover's fin, 2.5 mm thick, that reaches 90 mm out from a boss of 14 mm.
    private static Job Fin(string alloy, GatingSettings gating) => Jobs.Of(
        Jobs.Block(-60, -7, 0, 7, 0, 30, name: "boss"), Jobs.Block(-10, -1.25, 90, 1.25, 0, 12, name: "fin")) with
    {
        Alloy = alloy,
        Gating = gating,
    };

    private static GatingSettings AtBoss(double? pour_C = null) => new(At_mm: new(-30, -20), Ingates: 1, PourTemperature_C: pour_C);

    // The whole way of a worried caster: gated at the boss the fin is told with numbers; gated at both ends and on edge it is better; what is then told to clear it does.
    // Poured too cold both ways, so that even the better one is in doubt; aluminium asks for more head there, too, so narrow is the fin.
    [Theory]
    [InlineData("CuSn10Zn2", 1010.0, "pour_temperature_C")]
    [InlineData("AlSi7Mg", 690.0, "head_mm")]
    public void A_fin_gated_at_its_boss_is_told_runs_better_from_both_ends_on_edge_and_what_is_told_clears_it(string alloy, double pour_C, string key)
    {
        var kit = KitCheck.Build(Fin(alloy, AtBoss(pour_C)));
        var worst = kit.Filling!.Places[0];
        Assert.InRange(worst.At_mm.X, 80, 90);
        Assert.InRange(worst.Wall_mm, 2.0, 2.6);
        Assert.True(worst.Ratios.Front > kit.Filling.Table.Risk.Doubtful, $"{worst.Ratios}");
        Assert.Contains(kit.Findings, f => f.Code == "misrun-risk" && f.Value == worst.Ratios.Worst);

        var better = Assert.Single(PouringWays.Of(kit), w => w.Keys == "pour = \"on edge\", at = \"both ends\"").Filling!;
        Assert.True(better.Worst.Front < 0.8 * kit.Filling.Worst.Front, $"{better.Worst} against {kit.Filling.Worst}");
        Assert.True(better.Worst.Worst < kit.Filling.Worst.Worst);

        var gating = new GatingSettings(PourTemperature_C: pour_C) { OnEdge = true, Where = GatedAt.BothEnds };
        var edge = KitCheck.Build(Fin(alloy, gating));
        var place = edge.Filling!.Places[0];
        var remedy = Assert.Single(place.Remedies, r => r.Key == key);
        Assert.Contains(remedy.Text, Assert.Single(edge.Findings, f => f.Code == "misrun-risk").Remedy, StringComparison.Ordinal);
        var cleared = KitCheck.Build(Fin(alloy, key == "head_mm" ? gating with { Head_mm = remedy.Value } : gating with { PourTemperature_C = remedy.Value }));
        Assert.Empty(cleared.Filling!.Places);
        Assert.DoesNotContain(cleared.Findings, f => f.Code == "misrun-risk");
        Assert.True(cleared.Filling.Worst.Worst <= edge.Filling.Table.Risk.Doubtful);
    }

    // A row is the kit of a job that says the same, to the last bit.
    [Fact]
    public void Each_way_is_what_a_job_of_its_own_gives()
    {
        var kit = KitCheck.Build(Fin("AlSi7Mg", AtBoss()));
        var ways = PouringWays.Of(kit);
        Assert.Equal(["as the job says", "flat, one end", "flat, both ends", "flat, from the bottom", "on edge", "on edge, both ends of the long side"], ways.Select(w => w.Name));
        Assert.Same(kit.Filling, ways[0].Filling);
        Assert.Equal([true, false, false, false, false, false], ways.Select(w => w.IsTaken));
        GatingSettings[] settings = [new() { Where = GatedAt.OneEnd }, new() { Where = GatedAt.BothEnds }, new() { Where = GatedAt.Bottom }, new() { OnEdge = true }, new() { OnEdge = true, Where = GatedAt.BothEnds }];
        foreach (var (way, gating) in ways.Skip(1).Zip(settings))
        {
            var own = KitCheck.Build(Fin("AlSi7Mg", gating));
            Assert.Equal(own.Filling!.Worst, way.Filling!.Worst);
            Assert.Equal(own.Filling.FillTime_s, way.Filling.FillTime_s);
            Assert.Equal(own.Gating!.Reckoning.EffectiveHead_mm, way.Gating!.Reckoning.EffectiveHead_mm);
            Assert.Equal(own.Gating.Metal.Poured_kg, way.Gating.Metal.Poured_kg);
            Assert.Empty(way.Why);
        }

        // The way that the job takes is not told twice.
        Assert.Equal(5, PouringWays.Of(KitCheck.Build(Fin("AlSi7Mg", settings[3]))).Length);
    }

    // 90 mm of head over the joint are enough lying, and less than the casting is high on end: there the head is counted from other ingates, and is that of a job of its own, which says nothing of it.
    [Fact]
    public void A_head_of_the_job_holds_for_moulds_that_lie_flat_and_each_on_edge_has_its_own()
    {
        var ways = PouringWays.Of(KitCheck.Build(Fin("AlSi7Mg", AtBoss() with { Head_mm = 90 })));
        Assert.Equal(["pour = \"on edge\"", "pour = \"on edge\", at = \"both ends\""], ways.Where(w => w.HasOwnHead).Select(w => w.Keys));
        foreach (var (way, gating) in new[] { (ways[4], new GatingSettings { OnEdge = true }), (ways[5], new GatingSettings { OnEdge = true, Where = GatedAt.BothEnds }) })
        {
            Assert.Empty(way.Why);
            Assert.Equal(KitCheck.Build(Fin("AlSi7Mg", gating)).Gating!.Reckoning.Head_mm, way.Gating!.Reckoning.Head_mm);
        }

        Assert.All(ways.Where(w => !w.HasOwnHead && w.Gating!.Position.Gate_mm == w.Gating.Joint_mm), w => Assert.Equal(90, w.Gating!.Reckoning.Head_mm.Value));
        // From on edge to any other way none is carried over.
        var onEdge = PouringWays.Of(KitCheck.Build(Fin("AlSi7Mg", new() { OnEdge = true, Head_mm = 250 })));
        Assert.All(onEdge.Where(w => !w.IsTaken), w => Assert.True(w.HasOwnHead && w.Gating!.Reckoning.Head_mm.Value != 250));
        Assert.DoesNotContain(PouringWays.Of(KitCheck.Build(Fin("AlSi7Mg", AtBoss()))), w => w.HasOwnHead);
    }

    [Fact]
    public void What_cannot_be_is_told_with_why_and_a_job_without_gating_has_no_ways()
    {
        // A round casting has no end to be gated by.
        var ways = PouringWays.Of(KitCheck.Build(Jobs.Of(Jobs.Round(0, 0, 90, 0, 12)) with { Alloy = "AlSi7Mg" }));
        Assert.All(ways.Where(w => w.Gating is null), w => Assert.NotEmpty(w.Why));
        Assert.Empty(PouringWays.Of(KitCheck.Build(Fin("AlSi7Mg", new(Wanted: false)))));
    }

    // The metal of a plate with two ingates on one runner: each gets what the network says, and their pools are as large until they meet.
    [Fact]
    public void Two_ingates_of_unlike_share_split_the_way_through_a_bar_where_their_metal_meets()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 300, 30, 0, 12)) with { Gating = new() { Where = GatedAt.BothEnds } });
        Assert.Equal(2, kit.Filling!.Shares.Length);
        Assert.Equal(1, kit.Filling.Shares.Sum(), 1e-12);
        // With the runner narrowed past the first ingate both get about the same. (physics of full runners: 26.0 / 25.4 / 24.8 / 23.8 % of four)
        Assert.InRange(kit.Filling.Shares[0], 0.46, 0.54);
        Assert.InRange(kit.Filling.FarthestWay_mm, 120, 170);
    }
}
