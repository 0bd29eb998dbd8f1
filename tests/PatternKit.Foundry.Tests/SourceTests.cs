using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry.Tests;

/// <summary>What sources.toml promises of the other tables. Addresses are those of the pages that were read.</summary>
public class SourceTests
{
    private static readonly FoundryTables Tables = FoundryTables.Default;

    /// <summary>Every row of every built-in table that names a source, with what it says of other sources.</summary>
    private static readonly (string Table, string Source, string Basis, string Why, (string Source, string Basis)[] Others)[] Rows = [.. Built().SelectMany(t => Named(t.Name, t.Map))];

    private static IEnumerable<(string Name, TomlMap Map)> Built()
    {
        var program = typeof(FoundryTables).Assembly;
        foreach (var name in program.GetManifestResourceNames().Where(n => n.EndsWith(".toml", StringComparison.Ordinal) && n != "sources.toml"))
        {
            using var reader = new StreamReader(program.GetManifestResourceStream(name)!);
            yield return (name, TomlDocument.Parse(reader.ReadToEnd(), name));
        }
    }

    private static IEnumerable<(string Table, string Source, string Basis, string Why, (string Source, string Basis)[] Others)> Named(string table, TomlNode node) => node switch
    {
        TomlMap m when m.Find("source") is TomlText source =>
        [
            (table, source.Value, Text(m, "basis"), Text(m, "why"), m.Find("others") is TomlList l ? [.. l.Items.Cast<TomlMap>().Select(o => (Text(o, "source"), Text(o, "basis")))] : []),
        ],
        TomlMap m => m.Fields.SelectMany(f => Named(table, f.Value)),
        TomlList l => l.Items.SelectMany(i => Named(table, i)),
        _ => [],
    };

    private static string Text(TomlMap map, string key) => map.Find(key) is TomlText t ? t.Value : "";

    [Fact]
    public void Every_source_that_a_row_names_is_known_with_author_title_and_address_and_none_is_idle()
    {
        var named = Rows.Select(r => r.Source).Concat(Rows.SelectMany(r => r.Others.Select(o => o.Source))).Distinct().Order(StringComparer.Ordinal).ToArray();
        Assert.True(Rows.Length > 400);
        Assert.Equal(named, Tables.Sources.Keys.Order(StringComparer.Ordinal));
        Assert.All(Tables.Sources.Values, s => Assert.All([s.Author, s.Title, s.Address], t => Assert.False(string.IsNullOrWhiteSpace(t))));
        Assert.True(Tables.Sources.Values.Count(s => Uri.TryCreate(s.Address, UriKind.Absolute, out var a) && a.Host.Contains('.', StringComparison.Ordinal)) >= 80);
    }

    // What was read, was read somewhere: at an address, or in a work that is named. What has no work behind it is no reading.
    [Fact]
    public void What_was_read_has_an_address_or_says_that_none_is_known() => Assert.All(
        Rows.Select(r => (r.Source, r.Basis)).Concat(Rows.SelectMany(r => r.Others)).Where(r => r.Basis == "read").Distinct(),
        r => Assert.True(Tables.Sources[r.Source].Address is var a && (a.StartsWith("https://", StringComparison.Ordinal) || a == "no public address known"), r.Source));

    // A site is no page: where no more is known, that is said.
    [Fact]
    public void An_address_leads_to_a_page_or_says_that_it_is_the_sites() => Assert.All(
        Tables.Sources.Values.Where(s => s.Address.StartsWith("https://", StringComparison.Ordinal)),
        s => Assert.Matches(@"^https://[^/ ]+(/[^ ]+| \(the site; the address of the page itself is not known\))$", s.Address));

    [Fact]
    public void Printed_names_of_sources_hold_no_address() => Assert.All(
        Tables.Sources.Keys, n => Assert.DoesNotMatch(@"https?:|www\.|\.(com|org|net|uk|de)\b", n));

    [Fact]
    public void Where_others_disagree_the_choice_is_explained() => Assert.All(
        Rows.Where(r => r.Others.Length > 0 && r.Table != "cautions.toml"), r => Assert.False(r.Why.Length == 0, $"{r.Table}: {r.Source}"));

    [Fact]
    public void A_row_that_names_a_source_unknown_to_the_list_is_refused()
    {
        var map = TomlDocument.Parse("[floor]\ndeg = 0.5\nsource = \"common practise\"\nbasis = \"read\"\n", "draft.toml");
        var e = Assert.Throws<TableException>(() => new RowReader("draft.toml", "table", map, SourceColumn.BuiltIn(Tables.Sources)).Row("floor").Quoted("deg", 0, 10));
        Assert.Equal(3, e.Line);
        Assert.Contains("'common practise' is not in sources.toml; nearest known: common practice", e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[[source]]\nname = \"a\"\nauthor = \"b\"\ntitle = \"c\"\naddress = \"somewhere\"\n", 5)]
    [InlineData("[[source]]\nname = \"a\"\nauthor = \"b\"\ntitle = \"c\"\n", 1)]
    [InlineData("[[source]]\nname = \"a\"\nauthor = \"b\"\ntitle = \"c\"\naddress = \"from memory\"\n[[source]]\nname = \"a\"\nauthor = \"b\"\ntitle = \"c\"\naddress = \"from memory\"\n", 7)]
    public void A_source_without_an_address_says_so_in_words_that_are_known(string toml, int line) =>
        Assert.Equal(line, Assert.Throws<TableException>(() => SourceRow.Read(new("sources.toml", "table", TomlDocument.Parse(toml, "sources.toml"), SourceColumn.None))).Line);

    // Pairs of figures that disagree, each read or remembered in the works named: contraction (Dooley; chart of a supply house; Westermann; AFS by size; Rao; EN 12890),
    // latent heat of 356 (two data pages), solidus of silicon bronze (two data sheets), density of gray iron (three pages), pouring of steel (SFSA), shrinkage of aluminium (examples).
    [Theory]
    [InlineData("CuSn10Zn2", "contraction", "5/32 in/ft")]
    [InlineData("CuSn10Zn2", "contraction", "15.5 - 22 mm/m")]
    [InlineData("yellow-brass", "contraction", "7/32 in/ft")]
    [InlineData("AlSi12", "contraction", "7/32 in/ft = 1.82 %")]
    [InlineData("AlSi7Mg", "contraction", "1.2 % (0.8 - 1.5) of the pattern size")]
    [InlineData("gray-iron", "contraction", "3/32 in/ft")]
    [InlineData("gray-iron", "contraction", "10.5 mm/m")]
    [InlineData("carbon-steel", "contraction", "3/16 in/ft")]
    [InlineData("copper", "contraction", "1 %")]
    [InlineData("lead", "contraction", "7/32 in/ft")]
    [InlineData("tin", "contraction", "3/16 in/ft")]
    [InlineData("zinc", "contraction", "7/32 in/ft")]
    [InlineData("AZ91C", "contraction", "13 mm/m")]
    [InlineData("pewter", "contraction", "0.5 - 0.7 %")]
    [InlineData("ZA-8", "contraction", "1.1 %")]
    [InlineData("AlSi7Mg", "latent heat", "500 kJ/kg")]
    [InlineData("aluminium", "latent heat", "380 kJ/kg")]
    [InlineData("copper", "latent heat", "210 kJ/kg")]
    [InlineData("silicon-bronze", "freezing", "971 / 821 C")]
    [InlineData("gray-iron", "freezing", "1380 / 1180 C")]
    [InlineData("gray-iron", "density", "7500 kg/m3")]
    [InlineData("gray-iron", "latent heat", "280 kJ/kg")]
    [InlineData("AlSi7Mg", "pouring", "1350 F")]
    [InlineData("carbon-steel", "pouring", "2850 - 2900 F")]
    [InlineData("CuSn8Zn4", "pouring", "2000 - 2200 F")]
    [InlineData("aluminium", "shrinkage", "6 and 6.5 %")]
    [InlineData("AlSi7Mg", "section", "3.2 - 4.8 mm")]
    public void What_other_sources_say_of_an_alloy_stands_beside_the_default(string alloy, string column, string says)
    {
        var a = Tables.Alloy(alloy);
        var from = column switch
        {
            "contraction" => a.Contraction[0].From,
            "density" => a.Density_kg_m3.From,
            "freezing" => a.Freezing!.From,
            "latent heat" => a.Heat.Latent_kJ_kg!.From,
            "shrinkage" => a.Heat.FreezingShrinkage_percent!.From,
            "pouring" => a.Heat.Pouring!.From,
            _ => a.MinimumSection_mm!.From,
        };
        Assert.Contains(from.Others, o => o.Says.Contains(says, StringComparison.Ordinal));
    }

    // Ghosh and Mallik and Flemings differ in the conductivity of silica sand by 40 %; examples weigh moulding sand at 16 kN/m3 and 0.0165 N/cm3.
    [Theory]
    [InlineData("conductivity", "0.8655")]
    [InlineData("conductivity", "0.61")]
    [InlineData("specific heat", "1170")]
    [InlineData("density", "16 kN/m3")]
    [InlineData("density", "0.0165 N/cm3")]
    [InlineData("strength", "120 - 200 kPa")]
    public void What_other_sources_say_of_green_sand_stands_beside_the_default(string column, string says)
    {
        var s = Tables.Sand("green");
        var from = column switch { "conductivity" => s.Conductivity_W_mK, "specific heat" => s.SpecificHeat_J_kgK, "density" => s.Density_kg_m3, _ => s.Strength_kPa! };
        Assert.Contains(from.From.Others, o => o.Says.Contains(says, StringComparison.Ordinal));
    }
}
