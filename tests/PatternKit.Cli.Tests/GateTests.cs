using System.Text.Json;

namespace PatternKit.Cli.Tests;

public sealed class GateTests
{
    [Fact]
    public void Gate_prints_the_reckoning_with_rules_and_sources_and_writes_nothing()
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        var job = run.Put("cover/job.toml", CliRun.Job);
        Assert.Equal(0, run.Do("gate", job));
        Assert.Empty(run.Error);
        Assert.All(["Choke taken", "mm²", "Pour time by the law of the metal", "(from memory)", "common practice", "runner", "licensed practice"],
            t => Assert.Contains(t, run.Out, StringComparison.Ordinal));
        Assert.Equal([job], Directory.GetFiles(run.Folder, "*", SearchOption.AllDirectories));
    }

    [Fact]
    public void Gate_writes_json_for_scripts()
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        Assert.Equal(0, run.Do("gate", run.Put("cover/job.toml", CliRun.Job), "--json"));
        var lines = JsonDocument.Parse(run.Out).RootElement.GetProperty("gating").EnumerateArray().ToDictionary(l => l.GetProperty("key").GetString()!);
        Assert.True(lines["choke_mm2"].GetProperty("value").GetDouble() >= Math.PI * 16 - 1e-9);
        Assert.NotEmpty(lines["pour_time_by_rule_s"].GetProperty("source").GetString()!);
    }

    [Fact]
    public void Gate_tells_whether_the_mould_fills_and_what_freezes_last()
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        var job = run.Put("cover/job.toml", CliRun.Job);
        Assert.Equal(0, run.Do("gate", job));
        Assert.All(["Pouring temperature", "°C", "W/m²K", "By this reckoning all of it runs", "freezes in", "last of all"], t => Assert.Contains(t, run.Out, StringComparison.Ordinal));
        Assert.Equal(0, run.Do("gate", job, "--json"));
        var json = JsonDocument.Parse(run.Out[run.Out.IndexOf('{', StringComparison.Ordinal)..]).RootElement;
        var lines = json.GetProperty("filling").EnumerateArray().ToDictionary(l => l.GetProperty("key").GetString()!);
        Assert.InRange(lines["front_ratio"].GetProperty("value").GetDouble(), 0, 0.5);
        Assert.NotEmpty(lines["pour_temperature_C"].GetProperty("source").GetString()!);
        Assert.Equal(JsonValueKind.Array, json.GetProperty("hot_spots").ValueKind);
    }

    // What a job without feeders lacks is told by gate as by make, with what feeds a section and from when its gate does.
    [Fact]
    public void Gate_tells_what_is_not_fed_and_by_which_rules()
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        var job = run.Put("boss/job.toml", CliRun.Job.Replace("title =", "feeding = \"none\"\ntitle =", StringComparison.Ordinal).Replace("z = [0, 12]", "z = [0, 30]", StringComparison.Ordinal));
        Assert.Equal(0, run.Do("gate", job));
        Assert.All(["warn shrinkage: The section near", "A section of this modulus would be fed by its gate alone", "Bangladesh University", "a chill of iron"], t => Assert.Contains(t, run.Out, StringComparison.Ordinal));
        Assert.Equal(0, run.Do("gate", job, "--json"));
        var kit = JsonDocument.Parse(run.Out).RootElement;
        Assert.Contains(kit.GetProperty("findings").EnumerateArray(), f => f.GetProperty("code").GetString() == "shrinkage");
        Assert.Contains(kit.GetProperty("feeding_rules").EnumerateArray(), l => l.GetProperty("key").GetString() == "fed_by_gate_mm");
        Assert.Equal(1, kit.GetProperty("feeding").EnumerateArray().First().GetProperty("sharing").GetInt32());
    }

    [Fact]
    public void Gate_compares_the_ways_to_pour_one_a_row_the_jobs_own_marked()
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        var job = run.Put("cover/job.toml", CliRun.Job + "[gating]\npour = \"on edge\"\n");
        Assert.Equal(0, run.Do("gate", job, "--json"));
        var json = JsonDocument.Parse(run.Out).RootElement;
        var ways = json.GetProperty("ways").EnumerateArray().ToArray();
        Assert.Equal(["as the job says", "flat, one end", "flat, both ends", "flat, from the bottom", "on edge, both ends of the long side"], ways.Select(w => w.GetProperty("way").GetString()));
        Assert.Equal([true, false, false, false, false], ways.Select(w => w.GetProperty("taken").GetBoolean()));
        // The job's own row has the figures of the job.
        var lines = json.GetProperty("gating").EnumerateArray().ToDictionary(l => l.GetProperty("key").GetString()!);
        Assert.Equal(lines["effective_head_mm"].GetProperty("value").GetDouble(), ways[0].GetProperty("effective_head_mm").GetDouble());
        Assert.Equal(lines["choke_mm2"].GetProperty("value").GetDouble(), ways[0].GetProperty("choke_mm2").GetDouble());
        Assert.Equal("+y", ways[0].GetProperty("up").GetString());
        Assert.Contains("on edge, +y up", lines["up"].GetProperty("text").GetString(), StringComparison.Ordinal);
        Assert.Equal("at = \"both ends\"", ways[2].GetProperty("gating").GetString());

        using var told = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        Assert.Equal(0, told.Do("gate", told.Put("cover/job.toml", CliRun.Job)));
        Assert.Contains("[gating] pour = \"on edge\"", told.Out, StringComparison.Ordinal);
        Assert.Contains("▸", told.Out, StringComparison.Ordinal);
    }

    // Lift of a disc 40 mm across and 12 mm high, in the drag or under the cope: the lines are those of the sheet, which other tests hold against the pressure integral.
    [Theory]
    [InlineData("", "what lifts the cope", "added_N", "weights_kg")]
    [InlineData("[gating]\npour = \"on edge\"\n", "on edge", "clamps_N", "thrust_N")]
    public void Gate_prints_all_that_is_needed_between_pattern_and_pour(string gating, string title, params string[] forces)
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        run.Put("cover/shop.toml", "[[flask]]\nname = \"oak\"\nlength_mm = 400\nwidth_mm = 400\ncope_mm = 120\ndrag_mm = 120\n[[crucible]]\nname = \"A4\"\nbrass_kg = 4\n");
        var job = run.Put("cover/job.toml", CliRun.Job + gating);
        Assert.Equal(0, run.Do("gate", job));
        Assert.All([title, "flask and sand", "“oak”", "metal and crucible", "“A4”", "Metal to melt", "vents at (", "Leave in the sand"], t => Assert.Contains(t, run.Out, StringComparison.Ordinal));
        Assert.Equal(0, run.Do("gate", job, "--json"));
        var pouring = JsonDocument.Parse(run.Out).RootElement.GetProperty("pouring");
        Assert.Equal(["forces", "flask", "melt", "vents", "shake_out"], pouring.EnumerateObject().Select(g => g.Name));
        double Value(string group, string key) => pouring.GetProperty(group).EnumerateArray().Single(l => l.GetProperty("key").GetString() == key).GetProperty("value").GetDouble();
        Assert.All(forces, f => Assert.True(Value("forces", f) >= 0));
        Assert.Equal(400, Value("flask", "inside_x_mm"));
        Assert.True(Value("melt", "melt_kg") > 0 && Value("vents", "pricked") >= 1 && Value("shake_out", "wait_minutes") > 0 && Value("flask", "sand_kg") > 1);
    }

    [Fact]
    public void A_job_without_gating_is_told_so()
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        Assert.Equal(0, run.Do("gate", run.Put("cover/job.toml", "gating = \"none\"\n" + CliRun.Job)));
        Assert.Contains("wants no gating", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void The_shops_own_rate_is_taken_from_its_file()
    {
        using var run = new CliRun { Build = Patterns.Kits.KitBuilder.Build };
        run.Put("cover/shop.toml", "[pouring]\nrate_kg_s = 0.02\n");
        Assert.Equal(0, run.Do("gate", run.Put("cover/job.toml", CliRun.Job)));
        Assert.Contains("the shop's own rate", run.Out, StringComparison.Ordinal);
        Assert.Contains("pour-rate", run.Out, StringComparison.Ordinal);
    }
}
