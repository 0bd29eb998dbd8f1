using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>The rules of the job file: what is taken when a key is left out, what shapes mean, what is noted.</summary>
public sealed class JobRuleTests
{
    [Fact]
    public void What_is_left_out_is_left_to_the_rules()
    {
        var job = JobFolder.Read(JobFolder.Head + JobFolder.Disc);
        Assert.Equal(new PartingSettings(), job.Parting);
        Assert.Equal(new PatternSettings(), job.Pattern);
        Assert.Empty(job.Measures);
        Assert.Empty(job.Notes);
    }

    [Fact]
    public void Auto_means_the_same_as_left_out()
    {
        var job = JobFolder.Read(JobFolder.Head + JobFolder.Disc + "[parting]\nat = \"auto\"\n[pattern]\ndraft = \"auto\"\ncontraction = \"auto\"\nrapping = \"auto\"\ncamber = \"auto\"\ndowels = \"auto\"\ndraw_screws = \"auto\"\nskin = \"auto\"\nfillet = \"auto\"\n");
        Assert.Equal(new PartingSettings(), job.Parting);
        Assert.Equal(new PatternSettings(), job.Pattern);
    }

    [Theory]
    [InlineData("printed", Foundry.PatternSkin.Printed)]
    [InlineData("sanded", Foundry.PatternSkin.Sanded)]
    [InlineData("smoothed", Foundry.PatternSkin.Smoothed)]
    public void A_job_names_its_skin_and_may_do_without_draw_screws(string word, Foundry.PatternSkin skin) =>
        Assert.Equal(
            new PatternSettings(DrawScrews: false, Skin: skin),
            JobFolder.Read($"{JobFolder.Head}{JobFolder.Disc}[pattern]\ndraw_screws = \"none\"\nskin = \"{word}\"\n").Pattern);

    [Theory]
    [InlineData("fillet", "4", 4.0, null)]
    [InlineData("fillet", "\"none\"", 0.0, null)]
    [InlineData("fillet", "{ plate = \"1/8 in\" }", null, 3.175)]
    [InlineData("round", "1.5", 1.5, null)]
    [InlineData("round", "\"none\"", 0.0, null)]
    [InlineData("round", "\"auto\"", null, null)]
    [InlineData("round", "{ PLATE = 2 }", 0.0, 2.0)]
    public void Radii_are_given_for_all_or_by_name_and_what_has_no_name_has_no_rounded_edge(string key, string value, double? all_mm, double? plate_mm)
    {
        var pattern = JobFolder.Read($"{JobFolder.Head}{JobFolder.Disc.Replace("[[part]]", "[[part]]\nname = \"plate\"", StringComparison.Ordinal)}[pattern]\n{key} = {value}\n").Pattern;
        var (asked, other) = key == "round" ? (pattern.Round, pattern.Fillet) : (pattern.Fillet, pattern.Round);
        Assert.NotNull(asked);
        Assert.Null(other);
        Assert.Equal(all_mm, asked.All_mm);
        Assert.Equal(plate_mm, asked.Names_mm.TryGetValue("plate", out var own) ? own : null);
    }

    [Theory]
    [InlineData("\"auto\"", "bottom holes sides top")]
    [InlineData("{ top = \"auto\", sides = 1, plate = \"auto\" }", "plate top")]
    [InlineData("{ top = 1 }", null)]
    public void Stock_may_be_left_to_the_rule_face_by_face(string stock, string? byRule)
    {
        var read = JobFolder.Read($"{JobFolder.Head}{JobFolder.Disc}name = \"plate\"\n[pattern]\nstock = {stock}\n").Pattern.Stock!;
        Assert.Equal(byRule, read.ByRule is { } names ? string.Join(' ', names) : null);
        Assert.Equal(stock.Contains("sides = 1", StringComparison.Ordinal) ? 1 : 0, read.Sides_mm);
    }

    [Theory]
    [InlineData("[\"hazardous-alloy\"]", null)]
    [InlineData("[\"undercut\"]", "line 5")]
    [InlineData("\"hazardous-alloy\"", "write acknowledged = [")]
    public void A_job_acknowledges_a_danger_by_the_code_of_its_finding_and_nothing_else(string value, string? refused)
    {
        var text = $"{JobFolder.Head}acknowledged = {value}\n{JobFolder.Disc}";
        if (refused is null) Assert.Equal(["hazardous-alloy"], JobFolder.Read(text).Acknowledged!);
        else Assert.Contains(refused, Assert.Throws<InputException>(() => JobFolder.Read(text)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_job_without_unit_or_sand_is_read_with_a_note_for_each()
    {
        var job = JobFolder.Read("alloy = \"AlSi7Mg\"\n" + JobFolder.Disc);
        Assert.Equal(LengthUnit.Millimetre, job.Unit);
        Assert.Equal(JobReader.UsualSand, job.Sand);
        Assert.Equal(2, job.Notes.Length);
    }

    [Theory]
    [InlineData("taper = \"plus\"", SizeHolds.Tip)]
    [InlineData("taper = \"split\"", SizeHolds.Middle)]
    [InlineData("taper = \"minus\"", SizeHolds.Parting)]
    [InlineData("hold = \"tip\"", SizeHolds.Tip)]
    [InlineData("taper = \"minus\"\nhold = \"parting\"", SizeHolds.Parting)]
    public void Taper_and_hold_are_two_ways_to_say_the_same(string lines, SizeHolds holds) =>
        Assert.Equal(holds, JobFolder.Read($"{JobFolder.Head}{JobFolder.Disc}[pattern]\n{lines}\n").Pattern.Holds);

    // Turned vertices are rounded to 1e-9 mm, which may move an area by that times the perimeter, here below 100 mm.
    // Areas by hand: of a rectangle less what its corners lose, (4 − π) r²; of a slot, straight part and one circle.
    [Theory]
    [InlineData("circle = 24", 144 * Math.PI)]
    [InlineData("rectangle = [30, 20]", 600)]
    [InlineData("rectangle = [30, 20], corner = 5", 600 - ((4 - Math.PI) * 25))]
    [InlineData("rectangle = [30, 20], corner = 10, turn = 30", 600 - ((4 - Math.PI) * 100))]
    [InlineData("slot = [30, 10]", 200 + (25 * Math.PI))]
    [InlineData("polygon = [[0, 0], [30, 0], [0, 20]]", 300)]
    [InlineData("polygon = [[0, 0], [0, 20], [30, 0]]", 300)]
    [InlineData("path = [[0, 0, 1], [20, 0]]", 50 * Math.PI)]
    public void A_shape_encloses_what_its_words_say_counter_clockwise(string shape, double area) =>
        Assert.Equal(area, Assert.Single(JobFolder.Read($"{JobFolder.Head}[[part]]\nshape = {{ {shape} }}\nz = [0, 12]\n").Features[0].Loops).SignedArea(), 1e-7);

    [Fact]
    public void Copies_on_a_bolt_circle_stand_evenly_from_its_start()
    {
        var job = JobFolder.Read(JobFolder.Head + "[[part]]\nshape = { circle = 9, at = { circle = 70, count = 4, start = 90, centre = [5, 0] } }\nz = [0, 12]\n");
        var centres = job.Features[0].Loops.Select(l => (X: (l.Vertices[0].Point.X + l.Vertices[1].Point.X) / 2, Y: (l.Vertices[0].Point.Y + l.Vertices[1].Point.Y) / 2));
        Assert.Equal([(5, 35), (-30, 0), (5, -35), (40, 0)], centres.Select(c => (Math.Round(c.X, 9), Math.Round(c.Y, 9))));
    }

    [Theory]
    [InlineData("inches.dxf", "mm", 50.8, 0)]
    [InlineData("no-unit.dxf", "mm", 2, 2)]
    [InlineData("no-unit.dxf", "in", 50.8, 2)]
    [InlineData("gap.dxf", "mm", 40, 1)]
    public void A_drawing_is_scaled_by_its_own_unit_or_else_the_jobs_and_repairs_are_noted(string drawing, string unit, double side, int notes)
    {
        using var folder = new JobFolder();
        File.Copy(JobFolder.Repository("tests", "cases", "jobs", "read", drawing), Path.Combine(folder.Folder, drawing));
        var job = JobReader.Read(folder.Put("job.toml", $"{JobFolder.Head.Replace("\"mm\"", $"\"{unit}\"", StringComparison.Ordinal)}[[part]]\noutline = \"{drawing}#PLATE\"\nz = [0, \"12 mm\"]\n"));
        var feature = Assert.Single(job.Features);
        Assert.Equal("PLATE", feature.Layer);
        // The gap of 0.005 mm moves a corner by at most that.
        Assert.Equal(side * side, Assert.Single(feature.Loops).SignedArea(), 0.005 * side);
        Assert.Equal(notes, job.Notes.Length);
    }

    [Fact]
    public void A_wide_gap_is_closed_only_when_the_part_says_so()
    {
        using var folder = new JobFolder();
        var dxf = File.ReadAllText(JobFolder.Repository("tests", "cases", "jobs", "read", "gap.dxf")).Replace("0.005", "0.5", StringComparison.Ordinal);
        folder.Put("gap.dxf", dxf);
        string Text(string gap) => $"{JobFolder.Head}[[part]]\noutline = \"gap.dxf#PLATE\"\nz = [0, 12]\n{gap}";
        Assert.Throws<InputException>(() => JobReader.Read(folder.Put("job.toml", Text(""))));
        Assert.Single(JobReader.Read(folder.Put("job.toml", Text("gap = 0.6\n"))).Notes);
    }

    [Fact]
    public void Every_file_read_is_listed_once_with_its_sha_256()
    {
        using var folder = new JobFolder();
        File.Copy(JobFolder.Repository("tests", "cases", "jobs", "read", "inches.dxf"), Path.Combine(folder.Folder, "a.dxf"));
        var part = "[[part]]\noutline = \"a.dxf#PLATE\"\nz = [0, 12]\n";
        var path = folder.Put("job.toml", JobFolder.Head + part + part);
        var job = JobReader.Read(path);
        Assert.Equal(["job.toml", "a.dxf"], job.Inputs.Select(i => i.Name));
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(path))), job.Inputs[0].Sha256);
    }

    [Fact]
    public void A_byte_order_mark_and_windows_line_ends_are_no_hindrance() =>
        Assert.Single(JobFolder.Read("\uFEFF" + (JobFolder.Head + JobFolder.Disc).Replace("\n", "\r\n", StringComparison.Ordinal)).Features);
}
