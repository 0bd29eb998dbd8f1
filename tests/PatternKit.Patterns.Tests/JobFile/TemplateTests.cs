using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>The ready jobs: each reads without a note into the features that its comments speak of.</summary>
public sealed class TemplateTests
{
    public static TheoryData<string> Names() => [.. Directory.GetDirectories(JobFolder.Repository("templates")).Select(d => Path.GetFileName(d)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_template_reads_without_a_note_and_has_measures(string name)
    {
        var job = Read(name);
        Assert.Equal(name, job.Name);
        Assert.Empty(job.Notes);
        Assert.NotEmpty(job.Measures);
        // A measure along one line of the part: its nominal is the distance of its ends.
        Assert.All(job.Measures, m => Assert.Equal(m.Nominal_mm, (m.To_mm - m.From_mm).Length, 9));
    }

    // Areas by hand from the sizes in the job's comments.
    [Fact]
    public void The_lever_bracket_has_plate_rib_boss_bore_and_screw_holes()
    {
        var job = Read("lever-bracket");
        Assert.Equal(["plate", "rib", "boss", "bore", "screw holes"], job.Features.Select(f => f.Name));
        Assert.Equal(["BASE", "RIB", "BOSS", "BORE", "HOLES"], job.Features.Select(f => f.Layer));
        double[] areas = [6000 - ((4 - Math.PI) * 64), 360, 144 * Math.PI, 25 * Math.PI, 32 * Math.PI];
        Assert.Equal(areas, job.Features.Select(f => f.Loops.Sum(l => l.SignedArea())), (a, b) => Math.Abs(a - b) < 1e-6);
        Assert.Equal([12.0, 18, 25, 25, 12], job.Features.Select(f => f.High_mm));
        Assert.Equal([CutKind.None, CutKind.None, CutKind.None, CutKind.Drawn, CutKind.Machined], job.Features.Select(f => f.Cut));
        Assert.Equal(1.5, job.Pattern.Stock!.Names_mm!["boss"]);
        Assert.Equal(["job.toml", "bracket.dxf"], job.Inputs.Select(i => i.Name));
        Assert.Equal(4, job.Features[0].Loops[0].Vertices.Count(v => v.Bulge != 0));
    }

    [Fact]
    public void The_gland_flange_is_made_of_typed_shapes_alone()
    {
        var job = Read("gland-flange");
        Assert.Equal(["flange", "hub", "bore", "bolt holes"], job.Features.Select(f => f.Name));
        Assert.All(job.Features, f => Assert.Null(f.Layer));
        double[] areas = [2025 * Math.PI, 625 * Math.PI, 156.25 * Math.PI, 81 * Math.PI];
        Assert.Equal(areas, job.Features.Select(f => f.Loops.Sum(l => l.SignedArea())), (a, b) => Math.Abs(a - b) < 1e-6);
        Assert.Equal([CutKind.None, CutKind.None, CutKind.Drawn, CutKind.Machined], job.Features.Select(f => f.Cut));
        Assert.Equal(3 * Math.PI / 180, job.Pattern.DraftInside!.Value, 12);
    }

    [Fact]
    public void The_strainer_cover_has_metal_on_both_sides_of_its_flange()
    {
        var job = Read("strainer-cover");
        Assert.Null(job.Parting.At_mm);
        Assert.Equal([(0.0, 8.0), (8, 22), (-10, 0), (-10, 3), (0, 8)], job.Features.Select(f => (f.Low_mm, f.High_mm)));
        Assert.Equal(3, job.Features[^1].Loops.Length);
    }

    [Fact]
    public void The_vee_pulley_is_turned_about_an_axis_that_lies()
    {
        var job = Read("vee-pulley");
        Assert.Equal(["pulley", "bore"], job.Features.Select(f => f.Name));
        Assert.All(job.Features, f => Assert.Equal(Geometry.Columns.TurnedAxis.X, f.Turned!.Axis));
        Assert.Equal([(-40.0, 40.0), (-9, 9)], job.Features.Select(f => (f.Low_mm, f.High_mm)));
        Assert.Equal([CutKind.None, CutKind.Machined], job.Features.Select(f => f.Cut));
    }

    [Fact]
    public void The_bearing_pedestal_lies_on_its_side_with_the_bore_in_the_joint()
    {
        var job = Read("bearing-pedestal");
        Assert.Equal(0.0, job.Parting.At_mm);
        Assert.Equal(CutKind.Cored, job.Features[^1].Cut);
        Assert.Equal(new(Geometry.Columns.TurnedAxis.X, default), job.Features[^1].Turned);
        Assert.Equal((-50.0, 50.0), (job.Features[2].Low_mm, job.Features[2].High_mm));
        Assert.Equal([34.0, -34], job.Features.Where(f => f.Turned?.Axis == Geometry.Columns.TurnedAxis.Y).Select(f => f.Turned!.At_mm.Z));
    }

    [Fact]
    public void The_handwheel_stands_upright_with_five_arms()
    {
        var job = Read("handwheel");
        Assert.Equal(["rim", "arms", "hub", "bore"], job.Features.Select(f => f.Name));
        Assert.Equal(5, job.Features[1].Loops.Length);
        Assert.All(job.Features.Where(f => f.Name != "arms"), f => Assert.Equal(Geometry.Columns.TurnedAxis.Z, f.Turned!.Axis));
    }

    [Fact]
    public void The_pump_body_is_in_its_mould_twice_with_a_lying_and_a_standing_core()
    {
        var job = Read("pump-body");
        Assert.Equal([new(0, 0), new(127, 0)], job.Impressions!.At_mm);
        Assert.Equal([Geometry.Columns.TurnedAxis.X, null], job.Features.Where(f => f.Cut == CutKind.Cored).Select(f => f.Turned?.Axis));
        Assert.Equal(PlateKind.Match, job.Plate!.Kind);
    }

    private static Job Read(string name) => JobReader.Read(JobFolder.Repository("templates", name, "job.toml"));
}
