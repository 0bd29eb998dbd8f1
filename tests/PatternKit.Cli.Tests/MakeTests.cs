using System.Text.Json;
using PatternKit.Cli.Files;
using PatternKit.Exchange;
using PatternKit.Patterns;

namespace PatternKit.Cli.Tests;

public sealed class MakeTests
{
    private static readonly Finding Stop = new("undercut", Severity.Stop, "The hook cannot leave the sand.", new(1, 2, 3), 4, 0, "common practice", "Move the parting.");
    private static readonly Finding Warn = Stop with { Code = "thin-section", Severity = Severity.Warn };

    [Fact]
    public void A_kit_is_written_into_a_folder_of_the_jobs_name_and_the_run_ends_with_0()
    {
        using var run = new CliRun { Findings = [Warn] };
        var job = run.Put("cover/job.toml", CliRun.Job);
        Assert.Equal(0, run.Do("make", job, "--out", run.Path("kits")));
        Assert.Equal(["cope.stl", "kit.json"], Directory.GetFiles(run.Path("kits", "cover")).Select(Path.GetFileName).Order());
        Assert.Contains("▲ warn thin-section: The hook cannot leave the sand. At (1, 2, 3) mm.", run.Out, StringComparison.Ordinal);
        Assert.Contains("→ Move the parting.", run.Out, StringComparison.Ordinal);
        Assert.Contains($"written: {run.Path("kits", "cover")} (2 files)", run.Out, StringComparison.Ordinal);
        Assert.Empty(run.Error);
    }

    [Fact]
    public void The_folder_of_a_job_stands_for_its_job_toml()
    {
        using var run = new CliRun();
        run.Put("cover/job.toml", CliRun.Job);
        Assert.Equal(0, run.Do("make", run.Path("cover"), "--out", run.Path("kits")));
        Assert.True(File.Exists(run.Path("kits", "cover", "kit.json")));
    }

    [Fact]
    public void A_finding_that_says_stop_ends_with_1_and_writes_nothing()
    {
        using var run = new CliRun { Findings = [Warn, Stop] };
        run.Put("cover/job.toml", CliRun.Job);
        Assert.Equal(1, run.Do("make", run.Path("cover"), "--out", run.Path("kits")));
        Assert.False(Directory.Exists(run.Path("kits")));
        Assert.True(run.Out.IndexOf("■ stop", StringComparison.Ordinal) < run.Out.IndexOf("▲ warn", StringComparison.Ordinal));
        Assert.Contains("--force", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Force_writes_the_kit_in_spite_of_a_stop_and_ends_with_0()
    {
        using var run = new CliRun { Findings = [Stop] };
        run.Put("cover/job.toml", CliRun.Job);
        Assert.Equal(0, run.Do("make", run.Path("cover"), "--out", run.Path("kits"), "--force"));
        Assert.True(File.Exists(run.Path("kits", "cover", "kit.json")));
    }

    [Fact]
    public void Json_is_the_content_of_kit_json_and_a_list_for_several_jobs()
    {
        using var run = new CliRun();
        var (a, b) = (run.Put("a.toml", CliRun.Job), run.Put("b.toml", CliRun.Job));
        Assert.Equal(0, run.Do("make", a, "--out", run.Path("kits"), "--json"));
        Assert.Equal(File.ReadAllText(run.Path("kits", "a", "kit.json")), run.Out.ReplaceLineEndings("\n"));
        Assert.Equal(0, run.Do("make", a, b, "--out", run.Path("kits"), "--json"));
        Assert.Equal(["a", "b"], JsonDocument.Parse(run.Out).RootElement.EnumerateArray().Select(j => j.GetProperty("job").GetString()));
    }

    [Fact]
    public void A_stopped_job_still_tells_its_json()
    {
        using var run = new CliRun { Findings = [Stop] };
        var job = run.Put("a.toml", CliRun.Job);
        Assert.Equal(1, run.Do("make", job, "--out", run.Path("kits"), "--json"));
        Assert.Equal("a", JsonDocument.Parse(run.Out).RootElement.GetProperty("job").GetString());
        Assert.False(Directory.Exists(run.Path("kits")));
    }

    [Fact]
    public void One_bad_job_does_not_keep_the_others_from_being_made_and_the_gravest_code_counts()
    {
        using var run = new CliRun();
        var (bad, good) = (run.Put("bad.toml", "title = \n"), run.Put("good.toml", CliRun.Job));
        Assert.Equal(2, run.Do("make", bad, good, "--out", run.Path("kits"), "--json"));
        run.ErrorIsOneLineWith("bad.toml, line 1");
        Assert.Single(JsonDocument.Parse(run.Out).RootElement.EnumerateArray());
        Assert.True(Directory.Exists(run.Path("kits", "good")));
    }

    [Fact]
    public void Two_jobs_of_one_name_do_not_overwrite_each_other()
    {
        using var run = new CliRun();
        var (a, b) = (run.Put("a/cover.toml", CliRun.Job), run.Put("b/cover.toml", CliRun.Job));
        Assert.Equal(2, run.Do("make", a, b, "--out", run.Path("kits")));
        run.ErrorIsOneLineWith("another job of this run is named \"cover\"");
    }

    [Fact]
    public void A_place_that_cannot_be_written_ends_with_3_and_nothing_is_left()
    {
        using var run = new CliRun();
        var (job, file) = (run.Put("cover.toml", CliRun.Job), run.Put("taken", "a file"));
        Assert.Equal(3, run.Do("make", job, "--out", Path.Combine(file, "kits")));
        run.ErrorIsOneLineWith("cannot be written", "cover", $"{file} is not a folder", "--out");
        Assert.Equal(["cover.toml", "taken"], Directory.GetFileSystemEntries(run.Folder).Select(Path.GetFileName).Order());
    }

    [Fact]
    public void A_place_that_leads_nowhere_is_told_in_plain_words_with_3()
    {
        using var run = new CliRun();
        File.CreateSymbolicLink(run.Path("dangling"), run.Path("nowhere", "at", "all"));
        var job = run.Put("cover.toml", CliRun.Job);
        Assert.Equal(3, run.Do("make", job, "--out", run.Path("dangling", "kits")));
        run.ErrorIsOneLineWith("cannot be written", $"{run.Path("dangling")} is not a folder", "--out");
        // Linux lets nobody, not even root, make a folder here.
        Assert.Equal(3, run.Do("make", job, "--out", "/proc/kits"));
        run.ErrorIsOneLineWith("cannot be written", "/proc/kits cannot be made", "--out");
        Assert.DoesNotContain("ould not find", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void The_jobs_own_folder_is_never_taken_for_an_old_kit()
    {
        using var run = new CliRun();
        run.Put("cover/job.toml", CliRun.Job);
        Assert.Equal(3, run.Do("make", run.Path("cover"), "--out", run.Folder));
        run.ErrorIsOneLineWith("no kit");
        Assert.Equal(CliRun.Job, File.ReadAllText(run.Path("cover", "job.toml")));
        // Not even when it holds a kit.json by some accident.
        run.Put("cover/kit.json", "{}");
        Assert.Equal(3, run.Do("make", run.Path("cover"), "--out", run.Folder));
        Assert.True(File.Exists(run.Path("cover", "job.toml")));
    }

    [Fact]
    public void A_defect_is_called_one_in_one_line_with_2()
    {
        using var run = new CliRun { Build = (_, _) => throw new InvalidOperationException("two\nlines") };
        Assert.Equal(2, run.Do("make", run.Put("cover.toml", CliRun.Job), "--out", run.Path("kits")));
        run.ErrorIsOneLineWith("a defect in PatternKit", "InvalidOperationException: two lines");
    }

    [Fact]
    public void Shop_rows_are_known_to_the_job_and_reach_the_reckoning_and_the_list_of_inputs()
    {
        double? density = null;
        Job? read = null;
        using var run = new CliRun();
        run.Build = (job, tables) =>
        {
            (density, read) = (tables.Alloy("AlSi7Mg").Density_kg_m3.Value, job);
            throw new InvalidOperationException("seen");
        };
        run.Put("shop.toml", "[alloys.AlSi7Mg.density]\nkg_m3 = 2700\n");
        run.Do("make", run.Put("cover.toml", CliRun.Job), "--out", run.Path("kits"));
        Assert.Equal(2700, density);
        Assert.Equal(["cover.toml", "shop.toml"], read!.Inputs.Select(i => i.Name));
    }

    [Fact]
    public void The_shop_beside_the_job_goes_field_by_field_before_that_of_the_user()
    {
        using var run = new CliRun();
        run.Put("config/patternkit/shop.toml", "[alloys.AlSi7Mg.density]\nkg_m3 = 2700\n[alloys.gray-iron.density]\nkg_m3 = 7000\n");
        run.Put("shop.toml", "[alloys.AlSi7Mg.density]\nkg_m3 = 2650\n");
        var read = JobSource.Read(run.Put("cover.toml", CliRun.Job), run.Path("config"));
        Assert.Equal((2650, 7000), (read.Tables.Alloy("AlSi7Mg").Density_kg_m3.Value, read.Tables.Alloy("gray-iron").Density_kg_m3.Value));
        Assert.Equal(["cover.toml", "shop.toml of the user", "shop.toml"], read.Job.Inputs.Select(i => i.Name));
        run.Put("config/patternkit/shop.toml", "[alloy.AlSi7Mg.density]\nkg_m3 = 2700\n");
        Assert.Contains("line 1", Assert.Throws<InputException>(() => JobSource.Read(run.Path("cover.toml"), run.Path("config"))).Message, StringComparison.Ordinal);
        Assert.Equal(["cover.toml", "shop.toml"], JobSource.Read(run.Path("cover.toml"), run.Path("none")).Job.Inputs.Select(i => i.Name));
    }

    [Theory]
    [InlineData("[printer]\nbed = 200\n", "bed_mm", "printer")]
    [InlineData("[flasks]\nsize = 200\n", "line 1", "flasks")]
    [InlineData("rate = 3\n", "line 1", "rate")]
    [InlineData("[alloys.AlSi7Mg.density]\nkg_m3 = -1\n", "alloys.AlSi7Mg", "shop.toml")]
    [InlineData("[alloys\n", "shop.toml", "line 1")]
    [InlineData("[alloys.mine]\ntitle = \"x\"\n", "alloys.mine", "shop.toml")]
    public void A_shop_file_that_cannot_be_used_ends_with_2(string text, string place, string what)
    {
        using var run = new CliRun();
        run.Put("shop.toml", text);
        Assert.Equal(2, run.Do("make", run.Put("cover.toml", CliRun.Job), "--out", run.Path("kits")));
        run.ErrorIsOneLineWith(place, what);
    }
}
