using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Dimensions followed onto the pattern, against plane geometry.</summary>
public sealed class KitMeasureTests
{
    private const double Contraction = 0.013;
    private const double Rapping_mm = 0.2;
    private const double Near_mm = 0.001;

    private static readonly double T = Math.Tan(2 * KitCheck.Degree);
    private static readonly double Ti = Math.Tan(3 * KitCheck.Degree);

    [Theory]
    [InlineData(0)]
    [InlineData(8)]
    [InlineData(19)]
    public void An_outer_size_grows_by_contraction_and_by_the_draft_below_the_tip(double z)
    {
        var m = Of(0, new("length", 80, new(-40, 0, z), new(40, 0, z)));
        var expected = (80 * (1 + Contraction)) + (2 * (20 - z) * (1 + Contraction) * T);
        Assert.Equal(expected, m.Pattern_mm!.Value, Near_mm);
        Assert.Equal(expected / (1 + Contraction), m.AsCast_mm!.Value, Near_mm);
    }

    [Fact]
    public void A_hole_shrinks_by_the_draft_of_its_walls()
    {
        var m = Of(0, new("window", 24, new(-12, 0, 12), new(12, 0, 12)));
        Assert.Equal((1 + Contraction) * (24 - (2 * 8 * Ti)), m.Pattern_mm!.Value, Near_mm);
    }

    [Fact]
    public void Rapping_is_taken_off_the_pattern_and_comes_back_on_the_casting()
    {
        var (without, with) = (Of(0, new("length", 80, new(-40, 0, 8), new(40, 0, 8))), Of(Rapping_mm, new("length", 80, new(-40, 0, 8), new(40, 0, 8))));
        Assert.Equal(without.Pattern_mm!.Value - (2 * Rapping_mm), with.Pattern_mm!.Value, Near_mm);
        Assert.Equal(without.AsCast_mm!.Value, with.AsCast_mm!.Value, Near_mm);
    }

    [Fact]
    public void A_height_grows_by_contraction_alone()
    {
        var m = Of(Rapping_mm, new("height", 20, new(25, 0, 0), new(25, 0, 20)));
        Assert.Equal(20 * (1 + Contraction), m.Pattern_mm!.Value, Near_mm);
        Assert.Equal(20, m.AsCast_mm!.Value, Near_mm);
    }

    // ISO 8062-3 gives the width of the field; ± is half of it. The figures themselves are tested where the table is.
    [Fact]
    public void The_tolerance_is_positive_and_tells_its_source()
    {
        var m = Of(0, new("length", 80, new(-40, 0, 8), new(40, 0, 8)));
        Assert.InRange(m.Tolerance_mm, 0.1, 5);
        Assert.Contains("ISO 8062", m.Source, StringComparison.Ordinal);
    }

    // Stock of 1.5 mm a side on an outer size: 3 mm and the draft below the tip are left, and of a hole the same with the sign turned.
    [Theory]
    [InlineData(20, 0)]
    [InlineData(8, 0.2)]
    public void Stock_and_draft_are_what_is_left_to_machine(double z, double rapping_mm)
    {
        var outer = Stocked(new("length", 80, new(-40, 0, z - 0.5), new(40, 0, z - 0.5)), rapping_mm, new(Sides_mm: 1.5)).Measures[0];
        Assert.Equal(3, outer.Stock_mm, 0.002);
        Assert.Equal(3 + (2 * (20.5 - z) * T), outer.Left_mm!.Value, 0.003);
        Assert.Equal(2 * rapping_mm, outer.Rapping_mm, 1e-12);
        var hole = Stocked(new("window", 24, new(-12, 0, 12), new(12, 0, 12)), rapping_mm, new(Holes_mm: 1)).Measures[0];
        Assert.Equal(2, hole.Stock_mm, 0.002);
        Assert.Equal(2 + (2 * 8 * Ti), hole.Left_mm!.Value, 0.003);
        // The sand in a hole gives way to rapping too: the pattern's hole is wider by it, and the casting's is not.
        Assert.Equal(-2 * rapping_mm, hole.Rapping_mm, 1e-12);
        var top = Stocked(new("height", 20, new(25, 0, 0), new(25, 0, 20)), rapping_mm, new(Top_mm: 2)).Measures[0];
        Assert.Equal((2, 2), (Math.Round(top.Stock_mm, 3), Math.Round(top.Left_mm!.Value, 3)));
    }

    [Fact]
    public void A_size_between_a_face_and_a_centre_or_of_a_step_is_told_as_far_as_it_can_be()
    {
        // From the middle of the window, where no face is, to the end.
        var half = Stocked(new("half", 40, new(0, 20, 8), new(40, 20, 8)), 0, new(Sides_mm: 1)).Measures[0];
        Assert.Equal(1, half.Stock_mm, 0.002);
        // From the face of the window to the end: two faces that look one way and the other lie with metal between them.
        var rim = Stocked(new("rim", 28, new(12, 0, 8), new(40, 0, 8)), 0, new(Sides_mm: 1, Holes_mm: 1)).Measures[0];
        Assert.Equal(2, rim.Stock_mm, 0.002);
        Assert.True(rim.Left_mm > 2);
        // From the left face of the window to the right end: both look to the right of their metal, or to the left of it.
        var step = Stocked(new("step", 52, new(-12, 0, 8), new(40, 0, 8)), 0, new()).Measures[0];
        Assert.Null(step.Left_mm);
    }

    // Common practice of the table: 0.3 mm and 0.3 %.
    [Fact]
    public void The_spread_stands_beside_the_tolerance_and_stock_below_it_is_warned_of()
    {
        Measure length = new("length", 80, new(-40, 0, 19.5), new(40, 0, 19.5));
        var enough = Stocked(length, 0, new(Sides_mm: 1));
        Assert.Equal(0.3 + (0.003 * enough.Measures[0].AsCast_mm!.Value), enough.Measures[0].Spread_mm!.Value, 1e-9);
        Assert.DoesNotContain(enough.Findings, f => f.Code == "stock-short");
        var finding = Assert.Single(Stocked(length, 0, new(Sides_mm: 0.2)).Findings, f => f.Code == "stock-short");
        Assert.Equal((Severity.Warn, "mm"), (finding.Severity, finding.Unit));
        Assert.True(finding.Value < finding.Limit);
        // Nothing is machined, so nothing is told.
        Assert.DoesNotContain(Stocked(length, 0, new()).Findings, f => f.Code == "stock-short");
    }

    // A window of 24 mm that tapers to 24 - 16 tan 3° = 23.16 mm at z = 12: a key of 22 mm goes in with 1.16 mm as cast, one of 23.5 mm does not.
    [Theory]
    [InlineData(22, 0.5, false)]
    [InlineData(22, 1.0, true)]
    [InlineData(23.5, 0, true)]
    public void A_mate_is_held_against_the_casting_where_no_stock_lies(double mate_mm, double asked_mm, bool warned)
    {
        var kit = Stocked(new Measure("window", 24, new(-12, 0, 12), new(12, 0, 12)) { Mate_mm = mate_mm, Clearance_mm = asked_mm }, 0, new());
        var fit = kit.Measures[0].Fit!;
        Assert.True(fit.IsHole);
        Assert.Equal(24 - (16 * Ti) - mate_mm, fit.AsCast_mm, 0.002);
        Assert.Equal(24 - mate_mm, fit.Machined_mm, 1e-12);
        Assert.Equal(warned, kit.Findings.Any(f => f is { Code: "fit", Severity: Severity.Warn }));
    }

    [Fact]
    public void A_mate_of_machined_faces_is_held_against_the_nominal_size()
    {
        Measure Over(double mate) => new("length", 80, new(-40, 0, 8), new(40, 0, 8)) { Mate_mm = mate, Clearance_mm = 0.1 };
        var good = Stocked(Over(80.2), 0, new(Sides_mm: 1.5));
        Assert.False(good.Measures[0].Fit!.IsHole);
        Assert.DoesNotContain(good.Findings, f => f.Code == "fit");
        Assert.Contains(Stocked(Over(80.05), 0, new(Sides_mm: 1.5)).Findings, f => f is { Code: "fit", Severity: Severity.Warn });
        // To a centre there is no fit.
        Assert.Contains(Stocked(new Measure("half", 40, new(0, 20, 8), new(40, 20, 8)) { Mate_mm = 40 }, 0, new()).Findings, f => f is { Code: "fit", Severity: Severity.Note });
    }

    // Castings that came out at 1.6 % and nearly without error: the pattern grows by that, and the spread shrinks to what they left.
    [Fact]
    public void The_shops_own_castings_make_the_pattern()
    {
        var shop = string.Concat(new[] { 40, 60, 80, 100, 120 }.Select((p, i) => FormattableString.Invariant($"[[cast]]\nalloy = \"AlSi7Mg\"\nsand = \"oil-bonded\"\npattern_mm = {p}\ncasting_mm = {(p / 1.016) + (i % 2 == 0 ? 0.05 : -0.05):0.000}\n")));
        var job = Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 20)).Bare(2, 3, 0);
        job = job with { Pattern = job.Pattern with { Contraction = null }, Measures = [new("height", 20, new(25, 0, 0), new(25, 0, 20))] };
        var kit = Patterns.Kits.KitBuilder.Build(job, Foundry.FoundryTables.Default.With(shop, "shop.toml"));
        Assert.Equal(1.016, kit.Scale, 3e-4);
        Assert.Contains("5 measured castings", kit.Decisions.Single(d => d.Key == "contraction_percent").Rule, StringComparison.Ordinal);
        Assert.InRange(kit.Measures[0].Spread_mm!.Value, 0.08, 0.14);
        Assert.Contains("standard deviations of 5 measured castings", kit.Measures[0].Spread_mm!.Rule, StringComparison.Ordinal);
    }

    private static Kit Stocked(Measure measure, double rapping_mm, StockSettings stock)
    {
        var job = Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 20), Jobs.Block(-12, -8, 12, 8, 0, 20, CutKind.Drawn, "window")).Bare(2, 3, 0);
        return KitCheck.Build(job with { Pattern = job.Pattern with { Contraction = Contraction, Rapping_mm = rapping_mm, Stock = stock }, Measures = [measure] });
    }

    private static MeasureResult Of(double rapping_mm, Measure measure)
    {
        var job = Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 20), Jobs.Block(-12, -8, 12, 8, 0, 20, CutKind.Drawn, "window")).Bare(2, 3, 0);
        job = job with { Pattern = job.Pattern with { Contraction = Contraction, Rapping_mm = rapping_mm }, Measures = [measure] };
        return Assert.Single(KitCheck.Build(job).Measures);
    }
}
