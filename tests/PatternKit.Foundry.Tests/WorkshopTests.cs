using System.Globalization;

namespace PatternKit.Foundry.Tests;

/// <summary>What a shop owns and measures, from its file.</summary>
public class WorkshopTests
{
    private static FoundryTables With(string toml) => FoundryTables.Default.With(toml, "shop.toml");

    [Fact]
    public void Flasks_and_crucibles_are_listed_and_a_known_name_is_replaced()
    {
        var user = With("""
            [[flask]]
            name = "small"
            length_mm = 300
            width_mm = 200
            cope_mm = 75
            drag_mm = 75
            [[flask]]
            name = "large"
            length_mm = 450
            width_mm = 300
            cope_mm = 120
            drag_mm = 100
            cope_kg = 6.5
            [[crucible]]
            name = "A6"
            aluminium_kg = 2.4
            """);
        var job = user.With("[[flask]]\nname = \"small\"\nlength_mm = 310\nwidth_mm = 200\ncope_mm = 75\ndrag_mm = 75\n[[crucible]]\nname = \"pot\"\nbrim_litre = 2\n", "shop.toml beside the job");
        Assert.Equal([("large", 450.0), ("small", 310.0)], job.Workshop.Flasks.Select(f => (f.Name, f.Length_mm)));
        Assert.Equal([6.5, null], job.Workshop.Flasks.Select(f => f.Cope_kg));
        // 2.4 kg of aluminium at 2400 kg/m3 are a litre; 0.85 of two litres to the brim.
        Assert.Equal([1.0, 1.7], job.Workshop.Crucibles.Select(c => Math.Round(c.Useful_litre(job.Mould.Melting).Value, 9)));
        Assert.Empty(FoundryTables.Default.Workshop.Flasks);
    }

    [Theory]
    [InlineData("[[flask]]\nname = \"a\"\nlength_mm = 300\nwidth_mm = 200\ncope_mm = 75\n", 1, "drag_mm")]
    [InlineData("[[flask]]\nname = \"a\"\nlenght_mm = 300\n", 3, "length_mm")]
    [InlineData("[flask]\nname = \"a\"\n", 1, "[[flask]]")]
    [InlineData("[[crucible]]\nname = \"a\"\n", 1, "brim_litre")]
    [InlineData("[[crucible]]\nname = \"a\"\nbrim_litre = 1\nbrass_kg = 4\n", 1, "once")]
    [InlineData("[[cast]]\nalloy = \"AlSi7Mg\"\nsand = \"gren\"\npattern_mm = 100\ncasting_mm = 99\n", 1, "green")]
    [InlineData("[[cast]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\npattern_mm = 100\ncasting_mm = 3.9\n", 1, "same faces")]
    [InlineData("\n[[cast]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\npattern_mm = 100\ncasting_mm = 99\npattern_mm_ = 2\n", 7, "pattern_mm")]
    [InlineData("[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\ns_mm2 = 0\n", 4, "0.1 to 20")]
    [InlineData("[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\n", 1, "min_cm2")]
    [InlineData("[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\ns_mm2 = 2\nmin_cm2 = 4\n", 1, "once")]
    [InlineData("[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"gren\"\ns_mm2 = 2\n", 1, "green")]
    [InlineData("[mould_constant]\nalloy = \"AlSi7Mg\"\n", 1, "[[mould_constant]]")]
    [InlineData("[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\ns_mm2 = 2\n[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\ns_mm2 = 3\n", 6, "twice")]
    [InlineData("[melting]\nlift_kg = -3\n", 2, "lift_kg")]
    [InlineData("[spread]\npercentage = 3\n", 2, "percent")]
    public void A_slip_is_refused_with_its_line_and_what_would_be_right(string toml, int line, string hint)
    {
        var e = Assert.Throws<TableException>(() => With(toml));
        Assert.Equal(line, e.Line);
        Assert.Contains(hint, e.Message, StringComparison.Ordinal);
    }

    // Groover's exercise: a plate of 2 cm with 4.0 min/cm² freezes in 2.49 min; a minute over a square centimetre is 60/100 s/mm².
    [Fact]
    public void A_measured_mould_constant_goes_before_the_table_and_that_before_what_is_reckoned()
    {
        var tables = FoundryTables.Default;
        Sourced<double> For(FoundryTables t, string alloy, string sand = "green") =>
            MouldConstant.For(t.Alloy(alloy), t.Sand(sand), MetalHeat.Of(t.Alloy(alloy), t.Filling)!, 1 + t.Alloy(alloy).Freezing!.Liquidus_C, t);
        // X = 0.885 √t: a shell of 0.885 mm in a second. (lecture on the solidification of steel castings)
        Assert.Equal(1 / (0.885 * 0.885), For(tables, "carbon-steel").Value, 0.005);
        Assert.Contains("lecture", For(tables, "carbon-steel").Source, StringComparison.Ordinal);
        Assert.Equal(MouldConstant.Source, For(tables, "AlSi7Mg").Source);
        var own = With("[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\nmin_cm2 = 4.0\n[[mould_constant]]\nalloy = \"carbon-steel\"\nsand = \"green\"\ns_mm2 = 1.5\nsource = \"thermocouple in a bar, May\"\n");
        Assert.Equal(2.4, For(own, "AlSi7Mg").Value, 1e-12);
        Assert.Equal(2.493, MouldConstant.Time_s(For(own, "AlSi7Mg").Value, Modulus.Block(300, 100, 20)) / 60, 0.002);
        Assert.Contains("measured, shop.toml", For(own, "AlSi7Mg").Source, StringComparison.Ordinal);
        Assert.Equal((1.5, "thermocouple in a bar, May"), (For(own, "carbon-steel").Value, For(own, "carbon-steel").Source));
        // Of that alloy in that sand alone.
        Assert.Equal(MouldConstant.Source, For(own, "AlSi7Mg", "oil-bonded").Source);
        // The file beside the job goes before.
        Assert.Equal(3, For(own.With("[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\ns_mm2 = 3\n", "shop.toml beside the job"), "AlSi7Mg").Value);
    }

    // Castings without error: the contraction comes back to the last digit, and nothing is left for the spread.
    [Fact]
    public void Castings_without_error_give_their_contraction_back()
    {
        var tables = With(Castings("AlSi7Mg", "oil-bonded", [20, 45, 80, 110, 200], p => p / 1.0127));
        var s = Contraction.InShop(tables.Alloy("AlSi7Mg"), tables.Sand("oil-bonded"), 100, tables);
        Assert.Equal(0.0127, s.Value, 1e-6);
        Assert.Contains("5 measured castings of 19.74", s.Rule, StringComparison.Ordinal);
        Assert.Contains("measured in this shop", s.Source, StringComparison.Ordinal);
        Assert.True(tables.Mould.Spread.For(100, tables.Workshop.Fit(tables.Alloy("AlSi7Mg"), tables.Sand("oil-bonded"), tables.Mould.Spread)).Value < 1e-3);
    }

    // Known contraction and normal errors (Box and Muller 1958): the fit is off by no more than four of its standard errors, σ / √Σp², and the deviation by no more
    // than four of its own, σ / √(2(n − 1)).
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Castings_with_errors_give_contraction_and_spread_within_their_standard_errors(int seed)
    {
        const double Contraction = 0.0143, Sigma = 0.25;
        var random = new Random(seed);
        double Error() => Sigma * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double[] sizes = [.. Enumerable.Range(0, 200).Select(_ => 20 + (180 * random.NextDouble()))];
        var fit = ContractionFit.Of([.. sizes.Select(p => new MeasuredCasting("a", "s", p - 0.6, 0.6, (p / (1 + Contraction)) + Error(), ""))]);
        var standard = Sigma / Math.Sqrt(sizes.Sum(p => p * p)) * Math.Pow(1 + Contraction, 2);
        Assert.Equal(Contraction, fit.Fraction, 4 * standard);
        Assert.Equal(Sigma, fit.Deviation_mm, 4 * Sigma / Math.Sqrt(2.0 * (sizes.Length - 1)));
        Assert.Equal(200, fit.Count);
    }

    // Two castings by hand: p = 100, 200, c = 99, 196: k = (9900 + 39200) / 50000 = 0.982; residuals 0.8 and −0.4; s = 1/k − 1, deviation √0.8.
    [Fact]
    public void The_fit_of_two_castings_is_that_worked_by_hand()
    {
        var fit = ContractionFit.Of([new("a", "s", 100, 0, 99, ""), new("a", "s", 200, 0, 196, "")]);
        Assert.Equal((1 / 0.982) - 1, fit.Fraction, 1e-12);
        Assert.Equal(Math.Sqrt(0.8), fit.Deviation_mm, 1e-12);
    }

    // No other slope leaves a smaller sum of squares.
    [Fact]
    public void No_contraction_near_the_fitted_one_leaves_less()
    {
        (double P, double C)[] data = [(31, 30.4), (62, 61.5), (88, 86.6), (140, 138.4), (155, 152.7)];
        var fit = ContractionFit.Of([.. data.Select(d => new MeasuredCasting("a", "s", d.P, 0, d.C, ""))]);
        double Left(double s) => data.Sum(d => Math.Pow(d.C - (d.P / (1 + s)), 2));
        Assert.All(new[] { -1e-3, -1e-4, 1e-4, 1e-3 }, d => Assert.True(Left(fit.Fraction + d) > Left(fit.Fraction)));
    }

    [Fact]
    public void Too_few_castings_are_told_and_the_table_is_kept()
    {
        var tables = With(Castings("AlSi7Mg", "oil-bonded", [20, 45, 80, 110], p => p / 1.0127));
        var s = Contraction.InShop(tables.Alloy("AlSi7Mg"), tables.Sand("oil-bonded"), 100, tables);
        Assert.Equal(Contraction.ForAlloy(tables.Alloy("AlSi7Mg"), 100).Value, s.Value);
        Assert.Contains("4 castings of the shop are measured, and 5 are needed", s.Rule, StringComparison.Ordinal);
        // Castings in another sand say nothing of this one.
        Assert.DoesNotContain("measured", Contraction.InShop(tables.Alloy("AlSi7Mg"), tables.Sand("green"), 100, tables).Rule, StringComparison.Ordinal);
    }

    [Fact]
    public void The_usual_spread_is_common_practice_until_the_shop_says_otherwise()
    {
        var usual = FoundryTables.Default.Mould.Spread.For(100, null);
        Assert.Equal(0.6, usual.Value, 1e-12);
        Assert.Contains("common practice", usual.Source, StringComparison.Ordinal);
        Assert.Equal(0.25, With("[spread]\nmm = 0.2\npercent = 0.05\n").Mould.Spread.For(100, null).Value, 1e-12);
    }

    private static string Castings(string alloy, string sand, double[] patterns, Func<double, double> casting) => string.Concat(patterns.Select(p =>
        string.Create(CultureInfo.InvariantCulture, $"[[cast]]\nalloy = \"{alloy}\"\nsand = \"{sand}\"\npattern_mm = {p}\ncasting_mm = {casting(p):0.000000}\n")));
}
