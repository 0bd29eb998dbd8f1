namespace PatternKit.Foundry.Tests;

public class AlloyTableTests
{
    private static readonly FoundryTables Tables = FoundryTables.Default;

    public static TheoryData<string> Keys => [.. Tables.Alloys.Select(a => a.Key)];

    [Theory]
    [MemberData(nameof(Keys))]
    public void Every_figure_of_an_alloy_names_its_source(string key)
    {
        var alloy = Tables.Alloy(key);
        Provenance?[] all =
        [
            .. alloy.Contraction.Select(c => c.From), alloy.Density_kg_m3.From, alloy.Freezing?.From, alloy.MinimumSection_mm?.From, alloy.Hazard?.From,
        ];
        foreach (var from in all.OfType<Provenance>())
            Provenances.AssertComplete(from);
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public void A_converted_contraction_is_what_its_source_prints(string key)
    {
        foreach (var row in Tables.Alloy(key).Contraction)
        {
            var printed = PublishedFigure.Percent(row.Printed) / 100;
            var expected = row.Published == ContractionBase.Pattern ? 1 / (1 - printed) - 1 : printed;
            Assert.Equal(expected, row.Fraction, 1e-7);
            Assert.Equal(row.Published == ContractionBase.Pattern, row.Printed.EndsWith("of pattern", StringComparison.Ordinal));
        }
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public void Larger_castings_never_contract_more(string key)
    {
        var fractions = Tables.Alloy(key).Contraction.Select(c => c.Fraction).ToArray();
        Assert.Equal(fractions.OrderByDescending(f => f), fractions);
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public void A_key_can_stand_in_a_job_and_leads_to_its_own_alloy(string key)
    {
        var alloy = Tables.Alloy(key);
        Assert.Equal(key, alloy.Key);
        Assert.All(alloy.Aliases, a => Assert.Same(alloy, Tables.Alloy(a)));
    }

    // Solid densities: pure metals at room temperature from the CRC Handbook of Chemistry and Physics
    // (Al 2.70, Cu 8.96, Zn 7.13, Sn 7.29, Pb 11.34 g/cm3); an alloy lies between what it is made of, within 3 %.
    [Theory]
    [InlineData("aluminium", 2700)]
    [InlineData("copper", 8960)]
    [InlineData("zinc", 7130)]
    [InlineData("tin", 7290)]
    [InlineData("lead", 11340)]
    public void Pure_metals_have_the_density_of_the_handbook(string key, double kg_m3) =>
        Assert.Equal(1, Tables.Alloy(key).Density_kg_m3.Value / kg_m3, 0.005);

    // Melting points of the pure metals, ITS-90 and CRC Handbook: Al 660.3, Cu 1084.6, Zn 419.5, Sn 231.9, Pb 327.5 C.
    [Theory]
    [InlineData("aluminium", 660.3)]
    [InlineData("copper", 1084.6)]
    [InlineData("zinc", 419.5)]
    [InlineData("tin", 231.9)]
    [InlineData("lead", 327.5)]
    public void Pure_metals_melt_at_one_temperature(string key, double melting_C)
    {
        var freezing = Tables.Alloy(key).Freezing!;
        Assert.Equal(freezing.Liquidus_C, freezing.Solidus_C);
        Assert.Equal(melting_C, freezing.Liquidus_C, 2.0);
    }

    [Theory]
    [InlineData("AlSi7mg", "AlSi7Mg")]
    [InlineData("AlSi7", "AlSi7Mg")]
    [InlineData("C83060", "C83600")]
    [InlineData("grayiron", "gray-iron")]
    [InlineData("ZA12 ", "ZA-12")]
    [InlineData("alumnium", "aluminium")]
    public void A_mistyped_alloy_is_refused_with_the_nearest_known(string typed, string meant)
    {
        var e = Assert.Throws<UnknownNameException>(() => Tables.Alloy(typed));
        Assert.Contains(meant, e.Suggestions);
        Assert.Contains(meant, e.Message, StringComparison.Ordinal);
        Assert.Contains(typed.Trim(), e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_very_long_name_gives_a_short_message()
    {
        var e = Assert.Throws<UnknownNameException>(() => Tables.Alloy(new string('x', 1_000_000) + "\u001b[2J"));
        Assert.True(e.Message.Length < 300);
    }

    [Fact]
    public void Magnesium_and_lead_must_be_acknowledged_and_say_why()
    {
        Assert.Equal(["AZ91C", "lead"], Tables.Alloys.Where(a => a.Hazardous).Select(a => a.Key));
        Assert.All(Tables.Alloys.Where(a => a.Hazardous), a => Assert.NotEmpty(a.Cautions));
    }

    [Fact]
    public void Brass_brings_the_zinc_caution_and_every_pour_the_water_one()
    {
        var brass = Tables.CautionsFor(Tables.Alloy("yellow-brass")).Select(c => c.Key).ToArray();
        Assert.Contains("zinc-fume", brass);
        Assert.Contains("water", brass);
        var aluminium = Tables.CautionsFor(Tables.Alloy("AlSi7Mg")).Select(c => c.Key).ToArray();
        Assert.Contains("water", aluminium);
        Assert.DoesNotContain("zinc-fume", aluminium);
        Assert.DoesNotContain("magnesium-fire", aluminium);
    }

    // Zinc boils at 907 °C (handbooks of chemistry): below the liquidus of yellow brass, so at every pour of it; far above that of the zinc alloys.
    [Fact]
    public void Zinc_fume_stands_beside_the_temperature_of_the_alloy()
    {
        var brass = Tables.CautionsFor(Tables.Alloy("yellow-brass")).Single(c => c.Key == "zinc-fume").Text;
        Assert.Contains("907 °C", brass, StringComparison.Ordinal);
        Assert.Contains("liquid from 943 °C on, so that it boils off at every pour", brass, StringComparison.Ordinal);
        var manganese = Tables.CautionsFor(Tables.Alloy("manganese-bronze")).Single(c => c.Key == "zinc-fume").Text;
        Assert.Contains("27 °C of superheat are the limit", manganese, StringComparison.Ordinal);
    }

    [Fact]
    public void Families_sands_and_cores_bring_their_own_cautions()
    {
        string[] Keys(string alloy, string sand, bool cores = false) => [.. Tables.CautionsFor(Tables.Alloy(alloy), Tables.Sand(sand), cores).Select(c => c.Key)];
        Assert.Contains("oil-smoke", Keys("AlSi7Mg", "oil-bonded"));
        Assert.DoesNotContain("oil-smoke", Keys("AlSi7Mg", "green"));
        Assert.Contains("unknown-scrap", Keys("CuSn10Zn2", "green"));
        Assert.DoesNotContain("unknown-scrap", Keys("gray-iron", "green"));
        Assert.Contains("cores", Keys("gray-iron", "green", true));
        Assert.DoesNotContain("cores", Keys("gray-iron", "green"));
        // Whatever is poured: moisture, concrete, silica, weights, lifting, quenching.
        Assert.All(new[] { "water", "sand-bed", "silica-dust", "weights-and-vents", "weights-off", "lifting", "quenching", "fume" }, k => Assert.Contains(k, Keys("AlSi7Mg", "green")));
    }

    // What public bodies print is read there; the rest says what it rests on.
    [Fact]
    public void Every_caution_names_its_stage_and_its_source() => Assert.All(Tables.Cautions, c =>
    {
        Assert.Matches("^(melting|pouring|before pouring|shake-out|making)", c.When);
        Assert.False(string.IsNullOrWhiteSpace(c.From.Source));
    });
}
