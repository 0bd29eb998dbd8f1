using PatternKit.Foundry;

namespace PatternKit.Foundry.Tests.Filling;

public class FillingTableTests
{
    private static readonly FoundryTables Tables = FoundryTables.Default;

    public static TheoryData<string> Keys => [.. Tables.Alloys.Select(a => a.Key)];

    [Fact]
    public void Every_row_of_the_table_names_its_source()
    {
        var t = Tables.Filling;
        Provenance[] all =
        [
            t.FrontHeat.From, t.ChannelHeat.From, t.FreezingTime_percent.From, t.OxideSkin_times.From, .. t.Stopping.Select(s => s.From), t.Risk.From, t.OpenShare.From, t.MixingWall_mm.From, t.Friction.From, t.GateBend_heads.From,
            t.ThickWall_mm.From, t.SuperheatThin.From, t.SuperheatThick.From, t.Mould_C.From, t.FreezesAt.From, t.Prominence.From,
        ];
        Assert.All(all, Provenances.AssertComplete);
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public void Every_figure_of_a_metals_heat_names_its_source(string key)
    {
        var h = Tables.Alloy(key).Heat;
        Provenance?[] all =
        [
            h.Latent_kJ_kg?.From, h.SpecificHeat_J_kgK?.From, h.LiquidSpecificHeat_J_kgK?.From, h.Conductivity_W_mK?.From, h.FreezingShrinkage_percent?.From, h.SurfaceTension_N_m?.From, h.Pouring?.From,
        ];
        Assert.All(all.OfType<Provenance>(), Provenances.AssertComplete);
    }

    // Richards' rule: the heat of fusion of a metal is about 8 to 12 J/mol K times its melting point; silicon's share lifts that of aluminium alloys and irons to about three times that.
    [Theory]
    [InlineData("aluminium", 26.98)]
    [InlineData("copper", 63.55)]
    [InlineData("zinc", 65.38)]
    [InlineData("tin", 118.71)]
    [InlineData("lead", 207.2)]
    public void Latent_heats_of_pure_metals_follow_richards_rule(string key, double g_mol)
    {
        var alloy = Tables.Alloy(key);
        var entropy = alloy.Heat.Latent_kJ_kg!.Value * g_mol / (alloy.Freezing!.Liquidus_C + 273.15);
        Assert.InRange(entropy, 7, 15);
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public void Metal_is_poured_above_its_liquidus_within_its_range_and_hotter_for_thin_walls(string key)
    {
        var alloy = Tables.Alloy(key);
        if (alloy.Freezing is null)
        {
            Assert.Null(PourTemperature.Of(alloy, 6, null, Tables.Filling));
            return;
        }

        var (thin, thick) = (PourTemperature.Of(alloy, 5, null, Tables.Filling)!, PourTemperature.Of(alloy, 30, null, Tables.Filling)!);
        Assert.True(thin.Taken_C.Value >= thick.Taken_C.Value && thick.Taken_C.Value > alloy.Freezing.Liquidus_C, $"{thin.Taken_C.Value} {thick.Taken_C.Value}");
        Assert.True(thin.Highest_C.Value >= thin.Taken_C.Value);
        Assert.NotEmpty(thin.Taken_C.Source);
        Assert.Equal(777, PourTemperature.Of(alloy, 5, 777, Tables.Filling)!.Taken_C.Value);
    }

    // AlSi7Mg 730 - 790 °C thin, 675 - 730 °C thick (handbooks, from memory); alloy 873 2000 - 2150 F (an ingot sheet).
    [Theory]
    [InlineData("AlSi7Mg", 6, 760)]
    [InlineData("AlSi7Mg", 20, 702.5)]
    [InlineData("silicon-bronze", 6, 1135)]
    public void The_middle_of_the_range_is_taken(string key, double wall_mm, double expected_C) =>
        Assert.Equal(expected_C, PourTemperature.Of(Tables.Alloy(key), wall_mm, null, Tables.Filling)!.Taken_C.Value, 0.5);

    [Fact]
    public void A_shop_may_give_its_own_figures_and_keeps_the_rest()
    {
        var own = Tables.With("[alloys.AlSi7Mg.latent_heat]\nkJ_kg = 400", "shop.toml").Alloy("AlSi7Mg").Heat;
        Assert.Equal((400.0, Basis.Shop), (own.Latent_kJ_kg!.Value, own.Latent_kJ_kg.From.Basis));
        Assert.Equal(Tables.Alloy("AlSi7Mg").Heat.Pouring, own.Pouring);
    }

    [Fact]
    public void A_pouring_range_that_runs_backwards_is_refused() => Assert.Contains("thin_C", Assert.Throws<TableException>(() =>
        Tables.With("[alloys.AlSi7Mg.pouring]\nthin_C = [790, 730]\nthick_C = [675, 730]", "shop.toml")).Message, StringComparison.Ordinal);
}
