using System.Text.Json;
using PatternKit.Patterns.Tests.Meshes;
using Xunit;

namespace PatternKit.Cli.Tests;

/// <summary><c>check</c> and <c>parting</c> of a part that is a mesh file.</summary>
public sealed class MeshPartTests
{
    [Fact]
    public void A_block_draws_with_its_upright_walls_told()
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do("check", run.Put("block.obj", ObjBodies.Block)));
        Assert.Contains("draws as it lies", run.Out, StringComparison.Ordinal);
        Assert.Contains("12 triangles, 30 × 20 × 10 mm, 6 cm³", run.Out, StringComparison.Ordinal);
        Assert.Contains("no-draft: 10 cm² of the skin", run.Out, StringComparison.Ordinal);
        Assert.Contains("millimetres", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Inches_are_taken_where_they_are_given()
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do("check", run.Put("block.obj", ObjBodies.Block), "--unit", "in", "--json"));
        var lie = JsonDocument.Parse(run.Out).RootElement.GetProperty("lie");
        Assert.Equal(6000 * Math.Pow(25.4, 3), lie.GetProperty("part_mm3").GetDouble(), 1.0);
        Assert.Equal(0, lie.GetProperty("caught_mm3").GetDouble(), 1e-6);
    }

    [Fact]
    public void Sand_caught_under_an_arm_ends_with_1()
    {
        using var run = new CliRun();
        // A mushroom with a square cap over a square stem over a square foot: the stem's sides are caught.
        Assert.Equal(1, run.Do("check", run.Put("bobbin.obj", Stack((0, 5, 10), (5, 15, 4), (15, 20, 10)))));
        Assert.Contains("stop undercut", run.Out, StringComparison.Ordinal);
        // (20² − 8²) × 10 mm³ between cap and foot.
        Assert.Contains("3.36 cm³ caught", run.Out, StringComparison.Ordinal);
        Assert.Contains("patternkit parting", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_a_thin_plate_the_thickness_is_a_fact_until_an_alloy_is_named()
    {
        using var run = new CliRun();
        var plate = run.Put("plate.obj", Stack((0, 2, 20)));
        Assert.Equal(0, run.Do("check", plate));
        Assert.Contains("note thin-section: The thinnest wall is 2 mm, near", run.Out, StringComparison.Ordinal);
        Assert.Contains("16 cm² of walls are thinner than the 3 mm", run.Out, StringComparison.Ordinal);
        Assert.Contains("steel 6.4", run.Out, StringComparison.Ordinal);
        Assert.Equal(0, run.Do("check", plate, "--alloy", "ductile-iron", "--json"));
        var thin = JsonDocument.Parse(run.Out).RootElement.GetProperty("findings").EnumerateArray().Single(f => f.GetProperty("code").GetString() == "thin-section");
        Assert.Equal("warn", thin.GetProperty("severity").GetString());
        Assert.Equal(2, thin.GetProperty("value").GetDouble(), 1e-9);
        // The least section of the alloy table.
        Assert.Equal(4.8, thin.GetProperty("limit").GetDouble());
        Assert.Contains("iron castings", thin.GetProperty("source").GetString(), StringComparison.OrdinalIgnoreCase);
    }

    // The README: a shop.toml beside a mesh holds for it as one beside a job does, its rows of other tables and its alloys included. Upright walls of a block, 10 cm², are as steep as a shop asks that
    // wants no draft for layers and the least otherwise; its own metal has its own least section.
    [Fact]
    public void A_shop_file_beside_a_mesh_holds_for_it()
    {
        using var run = new CliRun();
        var (plate, shop) = (run.Put("plate.obj", Stack((0, 2, 20))), run.Path("shop.toml"));
        Assert.Equal(0, run.Do("check", plate, "--json"));
        var before = JsonDocument.Parse(run.Out).RootElement.GetProperty("lie").GetProperty("asked_draft_deg").GetDouble();
        Assert.Equal(0, run.Do("parting", plate));
        Assert.Contains("against it: 10 × share caught", run.Out, StringComparison.Ordinal);
        File.WriteAllText(shop, "[alloys.home-brass]\nfamily = \"copper\"\ndensity = { kg_m3 = 8500 }\ncontraction = [{ percent = 1.5, of = \"casting\" }]\nminimum_section = { mm = 2.5 }\n[[tables.draft.outside]]\nup_to_mm = 10\ndeg = 4\n[tables.lying.caught]\nweight = 7\n");
        Assert.Equal(0, run.Do("check", plate, "--json"));
        var after = JsonDocument.Parse(run.Out).RootElement.GetProperty("lie").GetProperty("asked_draft_deg").GetDouble();
        Assert.True(before < 4 && after >= 4, $"{before} {after}");
        Assert.Equal(0, run.Do("check", plate, "--alloy", "home-brass"));
        Assert.Contains("2.5", run.Out, StringComparison.Ordinal);
        Assert.Equal(0, run.Do("parting", plate));
        Assert.Contains("against it: 7 × share caught", run.Out, StringComparison.Ordinal);
        File.WriteAllText(shop, "[tables.lying.caught]\nwieght = 7\n");
        Assert.Equal(2, run.Do("parting", plate));
        run.ErrorIsOneLineWith("shop.toml", "weight");
    }

    [Fact]
    public void An_alloy_that_is_not_known_or_not_for_a_mesh_is_refused()
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("check", run.Put("block.obj", ObjBodies.Block), "--alloy", "gray-irn"));
        run.ErrorIsOneLineWith("--alloy", "gray-iron");
        Assert.Equal(2, run.Do("check", run.Put("job.toml", CliRun.Job), "--alloy", "gray-iron"));
        run.ErrorIsOneLineWith("--alloy", "a job names its alloy itself");
    }

    [Fact]
    public void Whether_a_part_will_do_as_its_own_pattern_is_answered_first()
    {
        using var run = new CliRun();
        run.Put("old/part.obj", Stack((0, 5, 10), (5, 15, 4), (15, 20, 10)));
        run.Put("old/job.toml", "title = \"Old bobbin\"\nunit = \"mm\"\nalloy = \"gray-iron\"\nsand = \"green\"\noriginal = true\n[[part]]\nmesh = \"part.obj\"\n");
        Assert.Equal(1, run.Do("check", run.Path("old")));
        var lines = run.Out.Split('\n');
        Assert.Contains("the part itself as the pattern", lines[0], StringComparison.Ordinal);
        Assert.Contains("No: the part cannot leave the sand", lines[1], StringComparison.Ordinal);
        Assert.Contains("is caught behind the draw", lines[2], StringComparison.Ordinal);
        Assert.Contains("overall, along the draw", run.Out, StringComparison.Ordinal);
        Assert.Contains("1 ■ stop undercut", run.Out, StringComparison.Ordinal);
        Assert.Equal(1, run.Do("check", run.Path("old"), "--json"));
        var json = JsonDocument.Parse(run.Out).RootElement;
        Assert.Equal("cannot-be-drawn", json.GetProperty("verdict").GetString());
        // Gray iron: 1 in 96, and 0.1 mm on either side by the rapping table for less than 100 mm.
        var across = json.GetProperty("overall")[0];
        Assert.Equal(20.2 / (1 + (1 / 96.0)), across.GetProperty("as_cast_mm").GetDouble(), 1e-3);
        Assert.True(json.GetProperty("faces").GetArrayLength() > 0);
        Assert.Equal("undercut", json.GetProperty("findings")[0].GetProperty("code").GetString());
    }

    [Fact]
    public void The_bobbin_is_best_laid_down()
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do("parting", run.Put("bobbin.obj", Stack((0, 5, 10), (5, 15, 4), (15, 20, 10))), "--json"));
        var best = JsonDocument.Parse(run.Out).RootElement.GetProperty("lies")[0].GetProperty("lie");
        Assert.Equal(0, best.GetProperty("up")[2].GetDouble(), 1e-6);
        Assert.InRange(best.GetProperty("caught_mm3").GetDouble(), 0, 1);
    }

    [Fact]
    public void Findings_are_drawn_into_the_folder_that_is_given_and_nothing_else_is_written()
    {
        using var run = new CliRun();
        var bobbin = run.Put("bobbin.obj", Stack((0, 5, 10), (5, 15, 4), (15, 20, 10)));
        Assert.Equal(1, run.Do("check", bobbin, "--out", run.Path("seen", "here"), "--json"));
        Assert.Equal(["bobbin-findings.3mf", "bobbin-findings.png"], Names(run.Path("seen", "here")));
        Assert.Equal(2, JsonDocument.Parse(run.Out).RootElement.GetProperty("files").GetArrayLength());
        Assert.Equal(0, run.Do("parting", bobbin, "--out", run.Path("seen", "here")));
        Assert.Contains("bobbin-ways.png", run.Out, StringComparison.Ordinal);
        // A second run replaces the first.
        Assert.Equal(0, run.Do("parting", bobbin, "--out", run.Path("seen", "here")));
        Assert.Equal(["bobbin-findings.3mf", "bobbin-findings.png", "bobbin-ways.png"], Names(run.Path("seen", "here")));
        Assert.Equal(["bobbin.obj"], Names(run.Folder));

        run.Put("old/part.obj", ObjBodies.Block);
        run.Put("old/job.toml", "title = \"Old block\"\nunit = \"mm\"\nalloy = \"gray-iron\"\nsand = \"green\"\noriginal = true\n[[part]]\nmesh = \"part.obj\"\n");
        Assert.Equal(0, run.Do("check", run.Path("old"), "--out", run.Path("drawn")));
        Assert.Equal(["old-findings.3mf", "old-findings.png"], Names(run.Path("drawn")));
        Assert.Contains("written: ", run.Out, StringComparison.Ordinal);

        static string[] Names(string folder) => [.. Directory.GetFiles(folder).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];
    }

    [Fact]
    public void What_cannot_be_drawn_or_written_is_refused()
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("check", run.Put("job.toml", CliRun.Job), "--out", run.Path("drawn")));
        run.ErrorIsOneLineWith("--out", "patternkit make");
        Assert.False(Directory.Exists(run.Path("drawn")));
        Assert.Equal(3, run.Do("check", run.Put("block.obj", ObjBodies.Block), "--out", run.Path("job.toml")));
        run.ErrorIsOneLineWith("job.toml", "--out");
    }

    [Fact]
    public void An_open_mesh_is_told_with_its_place_and_cannot_be_ranked()
    {
        using var run = new CliRun();
        // A single facet bounds nothing.
        var path = run.Put("sheet.obj", "v 0 0 0\nv 30 0 0\nv 30 20 5\nv 60 0 40\nf 1 2 3\nf 2 4 3\n");
        Assert.Equal(1, run.Do("check", path));
        Assert.Contains("open-mesh", run.Out, StringComparison.Ordinal);
        Assert.Equal(2, run.Do("parting", path));
        run.ErrorIsOneLineWith("bounds no body");
    }

    /// <summary>Square prisms about the z axis, one on the other: z from, z to, half width.</summary>
    private static string Stack(params (int From, int To, int Half)[] parts)
    {
        var (lines, faces, count) = (new List<string>(), new List<string>(), 0);
        int[] Ring(int z, int h)
        {
            lines.AddRange([$"v {-h} {-h} {z}", $"v {h} {-h} {z}", $"v {h} {h} {z}", $"v {-h} {h} {z}"]);
            count += 4;
            return [count - 3, count - 2, count - 1, count];
        }

        int[]? below = null;
        foreach (var (from, to, half) in parts)
        {
            var (low, high) = (Ring(from, half), Ring(to, half));
            if (below is null) faces.Add($"f {low[3]} {low[2]} {low[1]} {low[0]}");
            for (var i = 0; i < 4; i++)
            {
                var j = (i + 1) % 4;
                if (below is not null) faces.Add($"f {below[i]} {below[j]} {low[j]} {low[i]}");
                faces.Add($"f {low[i]} {low[j]} {high[j]} {high[i]}");
            }

            below = high;
        }

        faces.Add($"f {below![0]} {below[1]} {below[2]} {below[3]}");
        return string.Join('\n', lines.Concat(faces)) + "\n";
    }
}
