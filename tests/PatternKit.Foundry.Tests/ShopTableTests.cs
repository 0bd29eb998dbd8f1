namespace PatternKit.Foundry.Tests;

/// <summary>[tables.NAME] of a shop file over the built-in tables. What is expected follows from the rows as the tables print them and from those of the shop.</summary>
public class ShopTableTests
{
    private static readonly FoundryTables BuiltIn = FoundryTables.Default;

    private static FoundryTables With(string toml, string name = "shop.toml") => BuiltIn.With(toml, name);

    [Fact]
    public void A_row_of_draft_changes_the_walls_of_its_height_and_no_others()
    {
        var own = With("[[tables.draft.outside]]\nup_to_mm = 50\ndeg = 1.25\n").Draft;
        var found = DraftRule.For(own, 40, false, PatternSkin.Smoothed);
        Assert.Equal(1.25, double.RadiansToDegrees(found.Value), 1e-12);
        Assert.Equal("shop.toml", found.Source);
        foreach (var other in new[] { 5.0, 30, 51, 1000 })
            Assert.Equal(DraftRule.For(BuiltIn.Draft, other, false, PatternSkin.Smoothed), DraftRule.For(own, other, false, PatternSkin.Smoothed));
        Assert.Equal(DraftRule.For(BuiltIn.Draft, 40, true, PatternSkin.Smoothed), DraftRule.For(own, 40, true, PatternSkin.Smoothed));
    }

    [Fact]
    public void A_new_row_of_draft_is_put_in_by_its_size()
    {
        var own = With("[[tables.draft.outside]]\nup_to_mm = 60\ndeg = 0.9\n[tables.draft.floor]\ndeg = 0.75\n").Draft;
        Assert.Equal(BuiltIn.Draft.Outside.Length + 1, own.Outside.Length);
        Assert.Equal(own.Outside.Select(r => r.UpTo_mm).Order(), own.Outside.Select(r => r.UpTo_mm));
        double Deg(double height_mm) => double.RadiansToDegrees(DraftRule.For(own, height_mm, false, PatternSkin.Smoothed).Value);
        Assert.Equal((1.0, 0.9, 0.75), (Deg(50), Deg(60), Deg(61)), new Within(1e-12));
        Assert.Equal(0.75, double.RadiansToDegrees(DraftRule.Floor(own).Value), 1e-12);
    }

    [Fact]
    public void A_row_changed_in_part_tells_the_source_of_the_rest()
    {
        var own = With("[tables.feeding.modulus]\nfeeder = 1.3\n").Feeding.Moduli;
        Assert.Equal((1.1, 1.3), (own.Neck, own.Feeder));
        Assert.Equal($"shop.toml; what it leaves out: {BuiltIn.Feeding.Moduli.From.Source}", own.From.Text);
        Assert.Equal(Basis.Shop, own.From.Basis);
        Assert.Equal("three trials", With("[tables.feeding.modulus]\nneck = 1.05\nfeeder = 1.3\nsource = \"three trials\"\n").Feeding.Moduli.From.Text);
    }

    [Fact]
    public void Gating_rows_for_an_alloy_go_before_those_of_its_family()
    {
        var own = With("""
            [[tables.gating.ratio]]
            alloys = ["AlSi7Mg"]
            family = "aluminium"
            sprue_runner_ingates = [1, 2, 3]
            [[tables.gating.pour_time]]
            family = "aluminium"
            alloys = ["AlSi7Mg"]
            a = 2
            b_mm = 8
            root = 2
            [[tables.gating.ingate_velocity]]
            family = "aluminium"
            m_s = 0.4
            """).Gating;
        GatingReckoning Of(string alloy, GatingTables tables) => GatingRules.Reckon(new(2, 6, 40, 20, 2, 6, true, 150, null, null), BuiltIn.Alloy(alloy), tables);
        Assert.Equal(new GatingRatio(1, 2, 3), Of("AlSi7Mg", own).Ratio.Value);
        Assert.Equal(Of("AlSi12", BuiltIn.Gating).Ratio, Of("AlSi12", own).Ratio);
        // t = (2 + T/8) sqrt(W), by hand: (2 + 6/8) sqrt(2) = 3.889 s.
        var time = PourTime.For(BuiltIn.Alloy("AlSi7Mg"), 2, 6, own);
        Assert.Equal(3.8891, time.Value, 1e-4);
        Assert.StartsWith("t = (2 + T/8) W^(1/2)", time.Rule, StringComparison.Ordinal);
        Assert.Equal(PourTime.For(BuiltIn.Alloy("AlSi12"), 2, 6, BuiltIn.Gating), PourTime.For(BuiltIn.Alloy("AlSi12"), 2, 6, own));
        Assert.Equal([0.4], own.IngateVelocity_m_s.Where(v => v.Family == AlloyFamily.Aluminium).Select(v => v.Value));
        Assert.Equal(BuiltIn.Gating.IngateVelocity_m_s.Length, own.IngateVelocity_m_s.Length);
    }

    [Fact]
    public void Machining_allowance_fillets_feeding_filling_and_vents_are_the_shops()
    {
        var own = With("""
            [[tables.machining.usual_allowance]]
            family = "copper"
            grade = "G"
            [tables.fillets.smallest]
            mm = 4
            [tables.fillets.series]
            mm = [1, 2, 4, 8, 16]
            [[tables.feeding.distance]]
            family = "copper"
            walls = 3
            [tables.filling.front_heat]
            W_m2K = 1500
            low = 1200
            high = 1800
            [tables.vents.spacing]
            mm = 25
            """);
        Assert.Equal("G", MachiningAllowance.UsualGrade(own.Machining, AlloyFamily.Copper).Value);
        Assert.Equal(MachiningAllowance.UsualGrade(BuiltIn.Machining, AlloyFamily.Iron), MachiningAllowance.UsualGrade(own.Machining, AlloyFamily.Iron));
        // A third of the wall, 4 mm at least; taken down to the shop's own radii.
        Assert.Equal((4, 8), (Fillets.Least(own.Fillets, 9).Value, Fillets.InSeries(own.Fillets, 12)));
        Assert.Equal(3, own.Feeding.DistanceOf(BuiltIn.Alloy("CuSn10Zn2"))!.Value);
        Assert.Equal(BuiltIn.Feeding.DistanceOf(BuiltIn.Alloy("AlSi7Mg"))!.Value, own.Feeding.DistanceOf(BuiltIn.Alloy("AlSi7Mg"))!.Value);
        Assert.Equal((1500, 1200, 1800), (own.Filling.FrontHeat.Value_W_m2K, own.Filling.FrontHeat.Low_W_m2K, own.Filling.FrontHeat.High_W_m2K));
        Assert.Equal(25, own.Mould.Vents.Spacing_mm.Value);
    }

    [Fact]
    public void Field_by_field_the_file_read_last_goes_before_and_the_short_sections_before_both()
    {
        var user = With("[tables.draft.floor]\ndeg = 0.75\n[tables.gating.discharge]\ncoefficient = 0.7\n[pouring]\nleast_choke_mm = 7\n[alloys.tin]\ntitle = \"Tin, own\"\n[[flask]]\nname = \"oak\"\nlength_mm = 300\nwidth_mm = 250\ncope_mm = 90\ndrag_mm = 90\n", "user.toml");
        var both = user.With("[tables.gating.discharge]\ncoefficient = 0.75\n[tables.gating.least_choke]\ndiameter_mm = 9\n", "job.toml");
        Assert.Equal((0.75, "user.toml"), (both.Draft.Floor_deg.Value, both.Draft.Floor_deg.From.Text));
        Assert.Equal((0.75, "job.toml"), (both.Gating.Discharge.Value, both.Gating.Discharge.From.Text));
        Assert.Equal(7, both.Gating.LeastChoke_mm.Value);
        Assert.Equal(("Tin, own", 1), (both.Alloy("tin").Title, both.Workshop.Flasks.Length));
        Assert.Equal(0.7, user.Gating.Discharge.Value);
        Assert.Equal(BuiltIn.Gating.Discharge, With("[pouring]\nleast_choke_mm = 7\n").Gating.Discharge);
    }

    [Fact]
    public void An_error_in_a_row_names_the_file_that_has_it()
    {
        var user = With("[tables.draft.floor]\ndeg = 0.75\n", "user.toml");
        var e = Assert.Throws<TableException>(() => user.With("\n[tables.draft.skin.printed]\nadd_deg = -1\n", "job.toml"));
        Assert.Equal(("job.toml", 3), (e.Table, e.Line));
        Assert.Contains("tables.draft.skin.printed", e.Message, StringComparison.Ordinal);
    }

    private sealed class Within(double tolerance) : IEqualityComparer<(double, double, double)>
    {
        public bool Equals((double, double, double) x, (double, double, double) y) =>
            Math.Abs(x.Item1 - y.Item1) < tolerance && Math.Abs(x.Item2 - y.Item2) < tolerance && Math.Abs(x.Item3 - y.Item3) < tolerance;

        public int GetHashCode((double, double, double) obj) => 0;
    }

    /// <summary>Sheets and kit.json are handed on: the folders of whoever made them stay out of them, and messages keep them.</summary>
    [Theory]
    [InlineData("/home/founder/.config/patternkit/shop.toml")]
    [InlineData(@"C:\Users\Founder\shop.toml")]
    public void A_shop_file_is_named_as_a_source_without_its_folders(string path)
    {
        var own = With("[alloys.gray-iron]\nliquid_density = { kg_m3 = 6900 }\n[tables.fillets.smallest]\nmm = 5\n", path);
        Assert.Equal("shop.toml", own.Alloy("gray-iron").LiquidDensity_kg_m3!.From.Source);
        Assert.StartsWith("shop.toml", own.Fillets.Least_mm.From.Source, StringComparison.Ordinal);
        Assert.StartsWith(path, Assert.Throws<TableException>(() => With("[tables.nonsense]\n", path)).Message, StringComparison.Ordinal);
    }
}
