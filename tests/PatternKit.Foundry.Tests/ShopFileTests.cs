using System.Globalization;
using CsCheck;

namespace PatternKit.Foundry.Tests;

public class ShopFileTests
{
    private static FoundryTables With(string toml) => FoundryTables.Default.With(toml, "shop.toml");

    private static TableException Refused(string toml) => Assert.Throws<TableException>(() => With(toml));

    [Fact]
    public void A_measured_contraction_replaces_the_tables_and_names_the_shop_file()
    {
        var tables = With("[alloys.AlSi7Mg]\ncontraction = { percent = 1.15, of = \"casting\" }\n");
        var s = Contraction.ForAlloy(tables.Alloy("AlSi7Mg"), 5000);
        Assert.Equal(0.0115, s.Value, 1e-15);
        Assert.Equal("shop.toml", s.Source);
        Assert.Equal(Basis.Shop, tables.Alloy("AlSi7Mg").Contraction[0].From.Basis);
        Assert.Equal(FoundryTables.Default.Alloy("AlSi7Mg").Density_kg_m3, tables.Alloy("356.0").Density_kg_m3);
        Assert.Equal(0.013, Contraction.ForAlloy(FoundryTables.Default.Alloy("AlSi7Mg"), 100).Value, 1e-15);
    }

    [Fact]
    public void A_contraction_of_the_pattern_size_is_converted()
    {
        var tables = With("[alloys.tin]\ncontraction = [{ up_to_mm = 100, percent = 2, of = \"pattern\", source = \"test bar\" }, { percent = 1, of = \"casting\" }]\n");
        Assert.Equal(0.02 / 0.98, Contraction.ForAlloy(tables.Alloy("tin"), 100).Value, 1e-15);
        Assert.Equal("test bar", Contraction.ForAlloy(tables.Alloy("tin"), 100).Source);
        Assert.Equal(0.01, Contraction.ForAlloy(tables.Alloy("tin"), 101).Value, 1e-15);
    }

    // Field by field the file read last goes before the one read first.
    [Fact]
    public void Bodies_are_cut_to_the_bed_unless_a_shop_file_says_no()
    {
        var shop = With("[printer]\nbed_mm = [220, 200]\n");
        Assert.True(shop.Printer!.CutsToBed);
        var job = shop.With("[printer]\ncut_to_bed = false\n", "shop.toml beside the job");
        Assert.Equal((220.0, 200.0, false), (job.Printer!.Length_mm, job.Printer.Width_mm, job.Printer.CutsToBed));
        Assert.False(job.With("[printer]\nheight_mm = 180\n", "another").Printer!.CutsToBed);
        Assert.Contains("true or false", Assert.Throws<TableException>(() => With("[printer]\nbed_mm = [220, 200]\ncut_to_bed = 1\n")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_prints_grow_by_stands_without_a_bed_and_field_by_field()
    {
        var shop = With("[printer]\noversize_mm = 0.1\nfirst_layer_flare_mm = 0.25\nfirst_layer_mm = 0.3\n");
        Assert.Null(shop.Printer);
        Assert.Equal((0.1, 0.0, 0.25, 0.3, 0.0), (shop.Growth!.Oversize_mm, shop.Growth.Finish_mm, shop.Growth.Flare_mm, shop.Growth.FirstLayer_mm, shop.Growth.Nozzle_mm));
        var job = shop.With("[printer]\nfinish_mm = 0.2\nbed_mm = [200, 200]\n", "shop.toml beside the job");
        Assert.Equal((0.3, 0.25), (job.Growth!.Skin_mm, job.Growth.Flare_mm), (a, b) => Math.Abs(a.Item1 - b.Item1) < 1e-12 && a.Item2 == b.Item2);
        Assert.Equal(200, job.Printer!.Length_mm);
        Assert.Null(With("[printer]\nbed_mm = [200, 200]\n").Growth);
        Assert.Contains("first_layer_mm", Assert.Throws<TableException>(() => With("[printer]\nfirst_layer_flare_mm = 0.2\n")).Message, StringComparison.Ordinal);
        Assert.Contains("bed_mm", Assert.Throws<TableException>(() => With("[printer]\nheight_mm = 200\n")).Message, StringComparison.Ordinal);
        Assert.Contains("oversize_mm", Assert.Throws<TableException>(() => With("[printer]\noversise_mm = 0.1\n")).Message, StringComparison.Ordinal);
        Assert.Contains("0 to 1", Assert.Throws<TableException>(() => With("[printer]\nfinish_mm = 2\n")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_new_alloy_and_a_new_sand_join_the_tables()
    {
        var tables = With("""
            [printer]
            bed_mm = [220, 220]
            [alloys."scrap wheels"]
            family = "aluminium"
            contraction = { percent = 1.2, of = "casting" }
            density = { kg_m3 = 2680 }
            [sands.river]
            bond = "clay"
            density = { kg_m3 = 1600 }
            conductivity = { W_mK = 0.7 }
            specific_heat = { J_kgK = 1100 }
            standing_limit = { times_width = 0.8 }
            hanging_limit = { times_width = 0.4 }
            """);
        Assert.Equal(FoundryTables.Default.Alloys.Length + 1, tables.Alloys.Length);
        Assert.Equal("scrap wheels", tables.Alloys[^1].Title);
        Assert.Equal(SandBond.Clay, tables.Sand("river").Bond);
    }

    [Theory]
    [InlineData("[alloys.AlSi7Mg]\ncontracton = { percent = 1.15, of = \"casting\" }", 2, "contraction")]
    [InlineData("[alloys.AlSi7Mg]\n\ncontraction = { percnt = 1.15, of = \"casting\" }", 3, "percent")]
    [InlineData("[sands.green]\ndensity = { kg_m3 = 1600 }\nhanging = { times_width = 1 }", 3, "hanging_limit")]
    [InlineData("[alloys.AlSi7mg]\ncontraction = { percent = 1.15, of = \"casting\" }", 1, "AlSi7Mg")]
    [InlineData("[alloys.tin]\ncontraction = { percent = 1.15, of = \"patern\" }", 2, "pattern")]
    [InlineData("[alloys.my]\nfamily = \"alluminium\"", 2, "aluminium")]
    [InlineData("[alloys.tin]\ncautions = [\"zinc fume\"]", 1, "zinc-fume")]
    [InlineData("[alloys.\"356.0\"]\nfamily = \"aluminium\"\ncontraction = { percent = 1.3, of = \"casting\" }\ndensity = { kg_m3 = 2700 }", 1, "AlSi7Mg")]
    public void A_slip_is_refused_with_its_line_and_the_nearest_known(string toml, int line, string hint)
    {
        var e = Refused(toml);
        Assert.Equal(line, e.Line);
        Assert.Contains(hint, e.Problem, StringComparison.Ordinal);
        Assert.StartsWith(string.Create(CultureInfo.InvariantCulture, $"shop.toml, line {line}"), e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[alloys.tin]\ncontraction = { percent = 0.0125e3, of = \"casting\" }", 2)]
    [InlineData("[alloys.tin]\ncontraction = { percent = nan, of = \"casting\" }", 2)]
    [InlineData("[alloys.tin]\ncontraction = { percent = \"1.2\", of = \"casting\" }", 2)]
    [InlineData("[alloys.tin]\ncontraction = 1.2", 2)]
    [InlineData("[alloys.tin]\ncontraction = []", 2)]
    [InlineData("[alloys.tin]\ncontraction = [{ up_to_mm = 100, percent = 1, of = \"casting\" }]", 1)]
    [InlineData("[alloys.tin]\ndensity = { kg_m3 = 7.3 }", 2)]
    [InlineData("[alloys.tin]\ndensity = { kg_m3 = 1979-05-27 }", 2)]
    [InlineData("[alloys.tin]\nfreezing = { liquidus_C = 200, solidus_C = 300 }", 2)]
    [InlineData("[alloys.new]\nfamily = \"zinc\"", 1)]
    [InlineData("alloys = 3", 1)]
    [InlineData("[alloys]\ntin = \"yes\"", 2)]
    [InlineData("[alloys.tin]\ndensity = { kg_m3 = 7300 }\n[alloys.tin]\n", 3)]
    [InlineData("[alloys.tin]\ntitle = \"a\"\ntitle = \"b\"\n", 3)]
    [InlineData("[alloys.tin]\ntitle = \n", 2)]
    [InlineData("[alloys.lead]\nhazard = { text = \"harmless\", must_acknowledge = false }", 1)]
    public void A_wrong_value_is_refused_with_its_line(string toml, int line) => Assert.Equal(line, Refused(toml).Line);

    [Fact]
    public void Deep_nesting_and_endless_files_are_refused()
    {
        Assert.NotNull(Refused("a = " + new string('[', 5000) + new string(']', 5000)));
        Assert.NotNull(Refused("a = \"" + new string('x', 3_000_000) + "\""));
        Assert.NotNull(Refused("[" + string.Join('.', Enumerable.Repeat("a", 5000)) + "]\n"));
    }

    [Fact]
    public void Any_text_is_either_read_or_refused_as_a_table()
    {
        var piece = Gen.OneOf<string>(["[alloys.tin]\n", "[[alloys.tin.contraction]]\n", "[sands.green]\n", "percent = 1\n", "of = \"casting\"\n", "title = ", "\"x\"\n", "{", "}", "[", "]", "=", ".", "1e400", "99999999999999999999", "\ud800", "2024-01-01", "0x", "\n", "\0", "density", "'", "alloys"]);
        piece.Array[0, 20].Select(string.Concat).Sample(text =>
        {
            try
            {
                With(text);
            }
            catch (TableException)
            {
                // Refused in the one way that callers expect.
            }
        });
    }

    [Fact]
    public void Tables_given_in_pieces_are_put_together()
    {
        var tables = With("""
            [alloys.tin]
            title = "Tin, own"
            [sands.green]
            title = "Green, own"
            [alloys.tin.density]
            kg_m3 = 7310
            [[alloys.tin.contraction]]
            up_to_mm = 50
            percent = 2
            of = "casting"
            [[alloys.tin.contraction]]
            percent = 1
            of = "casting"
            """);
        var tin = tables.Alloy("tin");
        Assert.Equal(("Tin, own", 7310, 2), (tin.Title, tin.Density_kg_m3.Value, tin.Contraction.Length));
        Assert.Equal("Green, own", tables.Sand("green").Title);
    }
}
