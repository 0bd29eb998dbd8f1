using System.Text.Json;
using PatternKit.Foundry;
using PatternKit.Patterns;

namespace PatternKit.Cli.Tests;

public sealed class UsageTests
{
    public static TheoryData<string> RefusedJobs() => [.. Directory.GetFiles(Refused, "*.toml").Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];

    private static string Refused => Cases("jobs");

    private static string Cases(string what)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "PatternKit.sln"))) folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("The tests run outside the repository.");
        return Path.Combine(folder, "tests", "cases", what, "refused");
    }

    public static TheoryData<string> RefusedShops() => [.. Directory.GetFiles(Cases("shops"), "*.toml").Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];

    // The first line of each says what the message is to hold.
    [Theory]
    [MemberData(nameof(RefusedShops))]
    public void A_shop_file_that_is_wrong_ends_with_2_and_says_where_and_how(string file)
    {
        using var run = new CliRun();
        var text = File.ReadAllText(Path.Combine(Cases("shops"), file));
        run.Put("shop.toml", text);
        Assert.Equal(2, run.Do("make", run.Put("cover.toml", CliRun.Job), "--out", run.Path("kits")));
        run.ErrorIsOneLineWith(text.Split('\n')[0]["# says: ".Length..], "shop.toml");
        Assert.False(Directory.Exists(run.Path("kits")));
    }

    // Every section that the README shows, read through the program.
    [Fact]
    public void A_mould_constant_and_rows_of_tables_reach_the_job_from_a_shop_file()
    {
        FoundryTables? seen = null;
        using var run = new CliRun();
        run.Build = (_, tables) =>
        {
            seen = tables;
            throw new InvalidOperationException("seen");
        };
        run.Put("shop.toml", "[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"green\"\ns_mm2 = 2.4\n[tables.vents.spacing]\nmm = 25\n");
        run.Do("make", run.Put("cover.toml", CliRun.Job), "--out", run.Path("kits"));
        Assert.Equal((1, 25), (seen!.Workshop.Constants.Length, seen.Mould.Vents.Spacing_mm.Value));
    }

    [Theory]
    [MemberData(nameof(RefusedJobs))]
    public void A_job_that_cannot_be_used_ends_with_2_and_one_line(string file)
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("make", Path.Combine(Refused, file), "--out", run.Path("kits")));
        run.ErrorIsOneLineWith();
        // The file at fault is named: the job, or the drawing it uses.
        Assert.True(run.Error.Contains(file, StringComparison.Ordinal) || run.Error.Contains(".dxf", StringComparison.Ordinal), run.Error);
        Assert.DoesNotContain("a defect", run.Error, StringComparison.Ordinal);
        Assert.Empty(run.Out);
        Assert.False(Directory.Exists(run.Path("kits")));
    }

    [Theory]
    [InlineData("not a command", "mak")]
    [InlineData("Required command")]
    [InlineData("Required argument 'JOB' missing", "make")]
    [InlineData("not a command", "alloys", "extra")]
    [InlineData("\"--forse\" is not an option here", "make", "a.toml", "--forse")]
    [InlineData("\"-x\" is not an option here", "new", "-x")]
    [InlineData("furlong", "check", "a.dxf", "--unit", "furlong")]
    [InlineData("no such file", "check", "none.dxf")]
    [InlineData("none.toml", "make", "none.toml")]
    [InlineData("empty", "make", "")]
    [InlineData("none.toml", "make", "@none.toml")]
    [InlineData("no such file", "check", "part.stl")]
    [InlineData("no mesh that is read here", "parting", "job.toml")]
    [InlineData("no template \"../x\"", "new", "a", "--from", "../x")]
    public void Wrong_usage_ends_with_2_and_one_line(string message, params string[] args)
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do(args));
        run.ErrorIsOneLineWith(message);
        Assert.Empty(run.Out);
    }

    [Fact]
    public void A_folder_without_a_job_ends_with_2()
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("make", run.Folder));
        run.ErrorIsOneLineWith("holds no job.toml");
    }

    [Fact]
    public void What_would_move_the_cursor_never_reaches_the_terminal()
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("make", "a\u001b[2J.toml"));
        Assert.DoesNotContain('\u001b', run.Error);
    }

    [Fact]
    public void Help_goes_to_stdout_with_0()
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do("--help"));
        Assert.All(["make", "check", "alloys", "sands", "new"], c => Assert.Contains(c, run.Out, StringComparison.Ordinal));
        Assert.Empty(run.Error);
    }

    [Theory]
    [InlineData("alloys", "AlSi7Mg", "contraction_percent", 1.3)]
    [InlineData("sands", "oil-bonded", "density_kg_m3", 1550)]
    public void Tables_tell_every_value_with_its_source(string command, string key, string value, double expected)
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do(command));
        Assert.All([key, "elsewhere", "why this one"], t => Assert.Contains(t, run.Out, StringComparison.Ordinal));
        Assert.DoesNotContain('\u001b', run.Out);
        Assert.DoesNotMatch(@"https?:|www\.", run.Out);
        Assert.Equal(0, run.Do(command, "--json"));
        Assert.DoesNotMatch(@"https?:|www\.", run.Out);
        var rows = JsonDocument.Parse(run.Out).RootElement.EnumerateArray().ToList();
        Assert.All(rows.SelectMany(r => r.GetProperty("values").EnumerateArray()), v => Assert.NotEqual("", v.GetProperty("source").GetString()));
        var row = rows.Single(r => r.GetProperty("key").GetString() == key);
        Assert.Equal(expected, row.GetProperty("values").EnumerateArray().First(v => v.GetProperty("key").GetString() == value).GetProperty("value").GetDouble(), 9);
    }

    [Fact]
    public void Checking_a_drawing_lists_layers_loops_and_what_does_not_close()
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do("check", Path.Combine(Refused, "outlines.dxf"), "--json"));
        var report = JsonDocument.Parse(run.Out).RootElement;
        Assert.Equal("millimetre", report.GetProperty("unit").GetString());
        var layers = report.GetProperty("layers").EnumerateArray().ToDictionary(l => l.GetProperty("name").GetString()!);
        Assert.Equal(["GOOD", "OPEN", "BOW", "CROSS", "GAP"], layers.Keys);
        Assert.Equal(1, layers["GOOD"].GetProperty("loops").GetInt32());
        Assert.Equal(JsonValueKind.Null, layers["GOOD"].GetProperty("problem").ValueKind);
        Assert.Contains("is open at", layers["OPEN"].GetProperty("problem").GetString(), StringComparison.Ordinal);
        Assert.Contains("crosses", layers["BOW"].GetProperty("problem").GetString(), StringComparison.Ordinal);
        Assert.Contains("cross", layers["CROSS"].GetProperty("problem").GetString(), StringComparison.Ordinal);
        Assert.Equal(0, run.Do("check", Path.Combine(Refused, "outlines.dxf")));
        Assert.Contains("✓ closed", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_circle_measures_its_diameter_both_ways()
    {
        using var run = new CliRun();
        run.Do("new", run.Path("pump"));
        Assert.Equal(0, run.Do("check", run.Path("pump", "bracket.dxf"), "--json"));
        var boss = JsonDocument.Parse(run.Out).RootElement.GetProperty("layers").EnumerateArray().Single(l => l.GetProperty("name").GetString() == "BOSS");
        Assert.All(boss.GetProperty("size_units").EnumerateArray(), s => Assert.Equal(24, s.GetDouble(), 9));
    }

    [Theory]
    [InlineData(new string[0], "not stated")]
    [InlineData(new[] { "--unit", "in" }, "in")]
    public void A_drawing_without_unit_takes_the_one_given_and_says_so(string[] option, string unit)
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do(["check", Path.Combine(Refused, "..", "read", "no-unit.dxf"), "--json", .. option]));
        var report = JsonDocument.Parse(run.Out).RootElement;
        Assert.Equal(unit, report.GetProperty("unit").GetString());
        Assert.False(report.GetProperty("unit_stated").GetBoolean());
        Assert.NotEmpty(report.GetProperty("notes").EnumerateArray());
    }

    [Theory]
    [InlineData("picture.dxf")]
    [InlineData("mesh.dxf")]
    [InlineData("nothing.dxf")]
    [InlineData("cut-short.dxf")]
    [InlineData("nan.dxf")]
    public void A_file_that_is_no_drawing_ends_with_2(string file)
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("check", Path.Combine(Refused, file)));
        run.ErrorIsOneLineWith(file);
    }

    [Theory]
    [InlineData(Severity.Note, 0, "note")]
    [InlineData(Severity.Warn, 0, "warn")]
    [InlineData(Severity.Stop, 1, "stop")]
    public void Checking_a_job_tells_findings_and_writes_nothing(Severity severity, int code, string word)
    {
        using var run = new CliRun { Findings = [new("undercut", severity, "The hook cannot leave the sand.")] };
        var job = run.Put("cover.toml", CliRun.Job);
        Assert.Equal(code, run.Do("check", job));
        Assert.Contains($"{word} undercut", run.Out, StringComparison.Ordinal);
        Assert.Contains("(cover): 1 finding\n", run.Out.ReplaceLineEndings("\n"), StringComparison.Ordinal);
        Assert.Equal(code, run.Do("check", job, "--json"));
        var finding = Assert.Single(JsonDocument.Parse(run.Out).RootElement.GetProperty("findings").EnumerateArray());
        Assert.Equal(word, finding.GetProperty("severity").GetString());
        Assert.Equal([job], Directory.GetFileSystemEntries(run.Folder));
    }
}
