using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Patterns.Casting;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Casting;

public class AllowancesTests
{
    [Fact]
    public void What_the_job_leaves_out_takes_the_rule_with_its_source()
    {
        var job = Of(Block(0, 0, 100, 60, 0, 12));
        var a = Allowances.Resolve(job, new(100, 60, 12), FoundryTables.Default);
        var rule = Contraction.ForAlloy(FoundryTables.Default.Alloy("AlSi7Mg"), 100);
        Assert.Equal(rule, a.Contraction);
        Assert.Equal(Rapping.For(FoundryTables.Default.Rapping, 100), a.Rapping_mm);
        Assert.Equal(DraftRule.For(FoundryTables.Default.Draft, 12, inside: false, PatternSkin.Sanded), a.DraftOutside);
        Assert.Equal(DraftRule.For(FoundryTables.Default.Draft, 12, inside: true, PatternSkin.Sanded), a.DraftInside);
        Assert.Equal(new StockSettings(), a.Stock.Value);
        Assert.StartsWith("none: the job calls no face machined", a.Stock.Rule, StringComparison.Ordinal);
        Assert.Null(a.Camber.Value);
    }

    [Fact]
    public void What_the_job_gives_is_taken()
    {
        var job = Of(Block(0, 0, 100, 60, 0, 12)) with
        {
            Alloy = "unknown but not needed",
            Pattern = new(DraftOutside: 0.05, DraftInside: 0.06, Stock: new(Top_mm: 2), Contraction: 0.02, Rapping_mm: 0, Camber: new(1), Dowels: false),
        };
        var a = Allowances.Resolve(job, new(100, 60, 12), FoundryTables.Default);
        Assert.Equal((0.02, 0.0, 2.0, 0.05, 0.06, 1.0), (a.Contraction.Value, a.Rapping_mm.Value, a.Stock.Value.Top_mm, a.DraftOutside.Value, a.DraftInside.Value, a.Camber.Value!.Rise_mm));
        Assert.All((string[])[a.Contraction.Rule, a.Rapping_mm.Rule, a.Stock.Rule, a.DraftOutside.Rule, a.Camber.Rule], r => Assert.Equal(Allowances.Given, r));
        Assert.False(a.Dowels);
    }

    // Common practice: layer lines ask for +0.5 to +1 deg, the less the more they are sanded off.
    [Theory]
    [InlineData(PatternSkin.Printed, 1)]
    [InlineData(PatternSkin.Sanded, 0.5)]
    [InlineData(PatternSkin.Smoothed, 0)]
    public void The_skin_that_the_job_names_adds_to_drafts_by_rule_and_never_to_a_given_one(PatternSkin skin, double added_deg)
    {
        const double degree = Math.PI / 180;
        var job = Of(Block(0, 0, 100, 60, 0, 12)) with { Pattern = new(DraftInside: 2.25 * degree, Skin: skin) };
        var a = Allowances.Resolve(job, new(100, 60, 12), FoundryTables.Default);
        Assert.Equal((2 + added_deg) * degree, a.DraftOutside.Value, 1e-12);
        Assert.Equal(2.25 * degree, a.DraftInside.Value, 1e-12);
        Assert.Equal(added_deg * degree, a.SkinDraft!.Value, 1e-12);
        Assert.Contains("common practice", a.SkinDraft.Source, StringComparison.Ordinal);
        var given = Allowances.Resolve(job with { Pattern = job.Pattern with { DraftOutside = 0.03 } }, new(100, 60, 12), FoundryTables.Default);
        Assert.Equal((0.03, null), (given.DraftOutside.Value, given.SkinDraft));
    }

    // ISO 8062:1994 as the trade tables give it: RMA grade F (light metals, hand moulded, fine end) is 1.5 mm over 100 to 160 mm;
    // the tolerance of grade 11 (clay, light) is 5 mm and of grade 10 (chemical) 3.6 mm at 100 to 160 mm. One face RMA + CT/2,
    // both faces and bores RMA + CT/4 a side (clause 10).
    [Theory]
    [InlineData("oil-bonded", "top", 1.5 + (5 / 2.0))]
    [InlineData("oil-bonded", "top bottom", 1.5 + (5 / 4.0))]
    [InlineData("oil-bonded", "holes", 1.5 + (5 / 4.0))]
    [InlineData("oil-bonded", "FLANGE", 1.5 + (5 / 2.0))]
    [InlineData("resin-bonded", "FLANGE", 1.5 + (3.6 / 2.0))]
    public void Stock_that_is_auto_takes_the_standard_by_alloy_and_largest_size(string sand, string places, double stock_mm)
    {
        var names = places.Split(' ');
        var asked = new StockSettings(ByRule: [.. names], Names_mm: names[0] == "FLANGE" ? Names("FLANGE", 0) : null);
        var job = Of(Block(0, 0, 120, 60, 0, 12)) with { Sand = sand, Pattern = new(Stock: asked) };
        var a = Allowances.Resolve(job, new(120, 60, 12), FoundryTables.Default);
        var s = a.Stock.Value;
        Assert.Equal(stock_mm, names[0] switch { "top" => s.Top_mm, "holes" => s.Holes_mm, _ => s.Names_mm!["FLANGE"] }, 1e-12);
        Assert.Equal(0, s.Sides_mm);
        var rule = a.StockByRule![names[0]];
        Assert.Contains("ISO 8062", rule.Source, StringComparison.Ordinal);
        Assert.Contains("largest size 120 mm", rule.Rule, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_beyond_the_standard_asks_for_a_figure() =>
        Assert.Contains("write the stock as a length", Assert.Throws<InputException>(() => Allowances.Resolve(
            Of(Block(0, 0, 100, 60, 0, 12)) with { Pattern = new(Contraction: 0, Stock: new(ByRule: ["top"])) }, new(20000, 60, 12), FoundryTables.Default)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_master_contraction_is_multiplied_in()
    {
        var job = Of(Block(0, 0, 100, 60, 0, 12)) with { Pattern = new(Contraction: 0.013, MasterContraction: 0.01) };
        Assert.Equal(1.013 * 1.01, Allowances.Resolve(job, new(100, 60, 12), FoundryTables.Default).Scale, 1e-12);
    }

    [Fact]
    public void Draft_below_the_floor_is_raised_to_it() =>
        Assert.Equal(0.25 * Math.PI / 180, Allowances.Resolve(
            Of(Block(0, 0, 100, 60, 0, 12)) with { Pattern = new(DraftOutside: 0) }, new(100, 60, 12), FoundryTables.Default).DraftOutside.Value, 1e-12);

    [Fact]
    public void An_unknown_alloy_is_an_input_error() =>
        Assert.Throws<InputException>(() => Allowances.Resolve(
            Of(Block(0, 0, 100, 60, 0, 12)) with { Alloy = "AlSi7Mgg" }, new(100, 60, 12), FoundryTables.Default));
}
