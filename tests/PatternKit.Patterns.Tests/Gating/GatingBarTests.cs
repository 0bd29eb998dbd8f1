using CsCheck;
using PatternKit.Exchange;
using PatternKit.Exchange.Stl;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Gating;

/// <summary>The bars of whole jobs: sound bodies of the reckoned sections, in places where metal can run through them.</summary>
public class GatingBarTests
{
    /// <summary>Sections come out within this of the reckoning.</summary>
    private const double Section = 0.02;

    public static TheoryData<string> Templates() => KitCheck.Templates();

    [Theory]
    [MemberData(nameof(Templates))]
    public void The_bars_of_a_template_are_sound_and_have_the_reckoned_sections(string name) => Check(KitCheck.Build(KitCheck.Template(name)));

    [Fact]
    public void A_part_in_the_cope_is_gated_in_the_cope_from_a_runner_in_the_drag()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-60, -20, 60, 20, 0, 12)));
        Check(kit);
        Assert.Equal(["sprue", "runner", "ingate-1"], Names(kit));
        Assert.Equal([MouldHalf.Cope, MouldHalf.Drag, MouldHalf.Cope], kit.Gating!.Bars.Select(b => b.Body.Half));
        var joint = kit.Parting.PatternHeight_mm;
        Assert.Equal(joint, Bar(kit, BarKind.Sprue).Body.InMould.Bounds().Low.Z, 1e-4);
        Assert.Equal(joint, Bar(kit, BarKind.Runner).Body.InMould.Bounds().High.Z, 1e-4);
        // The well is the deepest of the runner.
        Assert.Equal(kit.Gating.Reckoning.WellDepth_mm.Value, Bar(kit, BarKind.Runner).Body.AsPrinted.Bounds().High.Z, 1e-4);
    }

    [Fact]
    public void A_part_in_the_drag_is_gated_in_the_drag_from_a_runner_in_the_cope_with_the_sprue_on_it()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-60, -20, 60, 20, -12, 0)) with { Parting = new(0) });
        Check(kit);
        Assert.Equal(["sprue", "runner", "well", "ingate-1"], Names(kit));
        Assert.Equal([MouldHalf.Cope, MouldHalf.Cope, MouldHalf.Drag, MouldHalf.Drag], kit.Gating!.Bars.Select(b => b.Body.Half));
        var r = kit.Gating.Reckoning;
        Assert.Equal(r.Runner.Value.Depth_mm, Bar(kit, BarKind.Sprue).Body.InMould.Bounds().Low.Z, 1e-4);
        Assert.Equal(r.Head_mm.Value - r.Runner.Value.Depth_mm, r.SprueBaseHead_mm, 1e-9);
    }

    // A flange in the drag with a dome on it in the cope: an ingate against the dome would lie across the face of the flange.
    [Fact]
    public void Ingates_meet_the_outermost_metal_and_never_cross_the_casting()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Round(0, 0, 100, -8, 0, name: "flange"), Jobs.Round(0, 0, 40, 0, 30, name: "dome")) with { Parting = new(0) });
        Check(kit);
        Assert.Equal(MouldHalf.Drag, Bar(kit, BarKind.Ingate).Body.Half);
    }

    [Fact]
    public void A_long_side_gets_several_ingates_that_share_the_metal()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 460, 60, 0, 10)));
        Check(kit);
        Assert.Equal(["sprue", "runner", "ingate-1", "ingate-2", "ingate-3"], Names(kit));
        var r = kit.Gating!.Reckoning;
        Assert.Equal(r.Choke_mm2.Value * r.RatioTaken.Value.Ingates / r.RatioTaken.Value.Least, 3 * r.Ingate.Value.Area_mm2, 1e-6);
    }

    [Fact]
    public void A_ratio_that_is_too_fast_is_told_with_the_area_that_would_do_and_with_a_filter()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 200, 80, 0, 12)) with { Gating = new(Ratio: new(1, 1, 1)) });
        var finding = Assert.Single(kit.Findings, f => f.Code == "ingate-velocity");
        var r = kit.Gating!.Reckoning;
        Assert.Contains(FormattableString.Invariant($"together to {r.QuietIngates_mm2:0} mm²"), finding.Remedy, StringComparison.Ordinal);
        Assert.Contains(FormattableString.Invariant($"filter across the runner, its face at least {4 * r.Choke_mm2.Value:0} mm²"), finding.Remedy, StringComparison.Ordinal);
        // As told, it is not too fast any more.
        var part = r.QuietIngates_mm2 / r.Choke_mm2.Value;
        Assert.DoesNotContain(KitCheck.Build(kit.Job with { Gating = new(Ratio: new(1, part, part)) }).Findings, f => f.Code == "ingate-velocity");
    }

    [Fact]
    public void The_runner_narrows_past_each_ingate()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 460, 60, 0, 10)));
        var cuts = Bar(kit, BarKind.Runner).Cuts.Where(c => c.Name.StartsWith("runner", StringComparison.Ordinal)).ToArray();
        Assert.Equal(["runner, across", "runner, past ingate 1", "runner, past ingate 2"], cuts.Select(c => c.Name));
        Assert.Equal([1, 2 / 3.0, 1 / 3.0], cuts.Select(c => c.Region.Area / cuts[0].Region.Area), (a, b) => Math.Abs(a - b) < 0.02);
    }

    [Fact]
    public void The_metal_enters_where_the_job_asks_for_it()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 12)) with { Gating = new(At_mm: new(120, 60)) });
        Check(kit);
        var ingate = Bar(kit, BarKind.Ingate).Plan.Geometry;
        Assert.True(ingate.EnvelopeInternal.MinX > 120 && ingate.Centroid.Y > 45, $"{ingate.EnvelopeInternal}");
    }

    [Fact]
    public void What_the_job_gives_is_taken_as_given()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 200, 80, 0, 12)) with { Gating = new(Ratio: new(2, 1.5, 1), PourTime_s: 6, Head_mm: 120, Ingates: 2) });
        Check(kit);
        var r = kit.Gating!.Reckoning;
        Assert.Equal((new GatingRatio(2, 1.5, 1), 6.0, 120.0, 2), (r.RatioTaken.Value, r.PourTimeByRule_s.Value, r.Head_mm.Value, kit.Gating.Count.Value));
        Assert.Contains(kit.Findings, f => f.Code == "ingate-velocity" && f.Severity == Severity.Warn);
    }

    [Fact]
    public void No_gating_is_made_when_none_is_wanted()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 12)) with { Gating = new(Wanted: false) });
        Assert.Null(kit.Gating);
        Assert.Equal(kit.Bodies, kit.AllBodies);
        Assert.Equal(kit.Metal.Casting_kg, kit.Metal.Pour_kg);
    }

    [Fact]
    public void The_weight_to_pour_is_that_of_casting_and_bars()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 12)));
        var bars_mm3 = kit.Gating!.Bars.Sum(b => b.Body.AsPrinted.Volume());
        Assert.Equal(kit.Metal.Casting_kg + (bars_mm3 * 2680e-9), kit.Metal.Pour_kg, 1e-9);
        // A block of 120 × 80 × 12 mm: twice volume over surface is 9.6 mm, a little more with contraction.
        Assert.InRange(kit.Gating.Reckoning.Input.MeanWall_mm, 9.6, 10);
    }

    [Fact]
    public void A_casting_too_narrow_for_its_ingate_is_reckoned_but_gets_no_bars()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 9, 9, 0, 90)));
        Assert.NotNull(kit.Gating);
        Assert.Empty(kit.Gating!.Bars);
        Assert.Contains(kit.Findings, f => f.Code == "no-ingate-room");
    }

    [Fact]
    public void A_head_below_the_top_of_the_casting_is_refused()
    {
        var job = Jobs.Of(Jobs.Block(0, 0, 80, 80, 0, 60)) with { Gating = new(Head_mm: 55) };
        Assert.Contains("too low", Assert.Throws<InputException>(() => KitCheck.Build(job)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Bars_are_sound_round_any_block_at_any_place() =>
        Gen.Select(Gen.Double[20, 250], Gen.Double[20, 250], Gen.Double[5, 60], Gen.Double[0, 1], Gen.Double[-Math.PI, Math.PI], Gen.Double[0.5, 4]).Sample(
            (width, depth, height, share, turn, draft) =>
            {
                var outline = PlanPath.Polygon(new Vec2(0, 0), new(width, 0), new(width, depth), new(0, depth)).Transformed(1, turn, new(17.3, -8.1));
                var block = new Feature("block", null, [outline], 0, height, CutKind.None, "job.toml, line 3");
                var kit = KitCheck.Build(Jobs.Of(block) with
                {
                    Parting = new(Math.Floor(share * height)),
                    Pattern = new(draft * KitCheck.Degree, draft * KitCheck.Degree, Dowels: false),
                    Alloy = height > 30 ? "CuSn10Zn2" : "AlSi7Mg",
                });
                Check(kit, mayLackRoom: true);
            }, iter: 25, threads: 1);

    private static string[] Names(Kit kit) => [.. kit.Gating!.Bars.Select(b => b.Body.Name)];

    private static GatingBar Bar(Kit kit, BarKind kind) => kit.Gating!.Bars.First(b => b.Kind == kind);

    private static void Check(Kit kit, bool mayLackRoom = false)
    {
        var gating = kit.Gating!;
        if (mayLackRoom && gating.Bars.IsEmpty) return;
        Assert.NotEmpty(gating.Bars);
        foreach (var bar in gating.Bars) Sound(kit, bar);

        var casting = kit.Plan.CopeOutline.Union(kit.Plan.DragOutline);
        var (runner, sprue) = (Bar(kit, BarKind.Runner), Bar(kit, BarKind.Sprue));
        foreach (var bar in gating.Bars.Where(b => !b.IsOpen))
            Assert.True(bar.Plan.Intersection(casting).Area < 1e-6, $"{bar.Body.Name} lies over the casting");
        Assert.True(runner.Plan.Geometry.Distance(casting.Geometry) >= gating.Clearance_mm.Value - 0.05, "the runner is too near");
        foreach (var ingate in gating.Bars.Where(b => b.Kind == BarKind.Ingate))
        {
            Assert.True(ingate.Plan.Geometry.Distance(casting.Geometry) < 0.5, $"{ingate.Body.Name} does not reach the casting");
            Assert.True(ingate.Plan.Intersection(runner.Plan).Area > gating.Reckoning.Ingate.Value.Area_mm2, "the metal has to squeeze from runner to ingate");
            // What comes first goes past the last ingate and stays there.
            Assert.True(runner.Plan.Difference(ingate.Plan.Offset(0.01, 0.01)).Geometry.NumGeometries >= 2, "no dirt trap");
        }

        var well = gating.Bars.FirstOrDefault(b => b.Kind == BarKind.Well)?.Plan ?? runner.Plan;
        var foot = sprue.Cuts[0].Region;
        Assert.True(well.Covers(foot) && runner.Plan.Covers(foot), "the sprue misses the well or the runner");
    }

    private static void Sound(Kit kit, GatingBar bar)
    {
        var body = bar.Body;
        KitCheck.Valid(body.InMould, body.Name);
        KitCheck.Valid(body.AsPrinted, body.Name);
        Assert.Equal(0.0, StlWriter.RoundingChange(body.InMould));
        KitCheck.InSinglePrecision(body);
        Assert.Equal(0.0, body.AsPrinted.Bounds().Low.Z);
        Assert.Contains(body.AsPrinted.Facets, f => body.AsPrinted.AreaNormal(f) is { Z: < 0 } n && n.Plan.Length == 0 && body.AsPrinted.Vertices[f.A].Z == 0);

        // Draft: no facet but the level ones on the bed looks down, and none is steeper than asked. A sprue has its own taper.
        var asked = bar.Kind == BarKind.Sprue ? 0.25 * KitCheck.Degree : kit.Decisions.Single(d => d.Key == "draft_outside_deg").Value * KitCheck.Degree;
        foreach (var f in body.AsPrinted.Facets)
        {
            var n = body.AsPrinted.AreaNormal(f);
            if (n.Plan.Length == 0) continue;
            Assert.True(Math.Atan2(n.Z, n.Plan.Length) >= asked - KitCheck.DraftSlack, $"{body.Name}: {Math.Atan2(n.Z, n.Plan.Length) / KitCheck.Degree}°");
        }

        // From mould to print and back is a rigid motion.
        for (var v = 0; v < body.InMould.Vertices.Length; v++)
        {
            var p = body.InMould.Vertices[v];
            double Row(int i) => (body.ToPrinted[i][0] * p.X) + (body.ToPrinted[i][1] * p.Y) + (body.ToPrinted[i][2] * p.Z) + body.ToPrinted[i][3];
            Assert.True((new Vec3(Row(0), Row(1), Row(2)) - body.AsPrinted.Vertices[v]).Length < 1e-9);
        }

        Assert.NotEmpty(bar.Cuts);
        foreach (var cut in bar.Cuts)
            Assert.True(Math.Abs((cut.Region.Area / cut.Reckoned_mm2) - 1) <= Section, $"{body.Name}, {cut.Name}: {cut.Region.Area} mm² for {cut.Reckoned_mm2} mm²");
    }
}
