using System.Collections.Immutable;
using CsCheck;
using PatternKit.Foundry;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Meshes;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Pieces;

/// <summary>Halves that the printer's bed does not take whole.</summary>
public class CutKitTests
{
    // A slice of a drafted bar, square to its length, is a trapezoid of t (w + t tan θ); in its flat the dovetails add the length of their flanks and of their wider ends.
    [Theory]
    [InlineData(300, 50, 2)]
    [InlineData(500, 30, 3)]
    [InlineData(172, 175, 1)]
    public void The_gap_takes_the_section_of_the_bar_and_the_flanks_of_its_dovetails(double l, double w, int count)
    {
        const double t = 12, draft = 2 * KitCheck.Degree;
        var kit = Make(Jobs.Of(Jobs.Block(0, 0, l, w, 0, t)).Bare(2), CutCheck.Bed(180, 180));
        if (count == 1)
        {
            Assert.Empty(kit.Cut);
            Assert.Equal(kit.Bodies, kit.Printed);
            return;
        }

        var cut = Assert.Single(kit.Cut);
        CutCheck.Sound(kit, cut, 180, 180);
        Assert.Equal(count, cut.Pieces.Length);
        Assert.All(cut.Pieces, p => CutCheck.Drafted(p, draft));
        var table = FoundryTables.Default.BedCuts;
        var strips = cut.Plan.Cuts.Sum(c => (t * (w + (t * Math.Tan(draft)))) + c.Tails.Sum(d => t * ((2 * d.Depth * Math.Sqrt(1 + (d.Flare * d.Flare))) + d.Width - d.Neck)));
        Assert.All(cut.Plan.Cuts, c => Assert.NotEmpty(c.Tails));
        Assert.Equal(0.2, table.Gap_mm.Value);
        Assert.Equal(0.2 * strips, cut.Whole.AsPrinted.Volume() - cut.Pieces.Sum(p => p.AsPrinted.Volume()), 0.002 * strips);
        // Straight bars of one section cost the same everywhere: they are cut where pieces come out alike, or as early as the bed asks.
        Assert.Equal(cut.Plan.Cuts.Length, cut.Pieces.Length - 1);
    }

    [Fact]
    public void A_cut_keeps_clear_of_bosses_holes_and_ribs_where_the_bed_lets_it()
    {
        // Of 260 mm the bed of 180 lets the cut lie between 87 and 173: a boss takes from 90 to 120, a rib from 142 to 152, then a hole; their walls run out by up to 0.6 mm.
        var job = Jobs.Of(
            Jobs.Block(0, 0, 260, 60, 0, 12), Jobs.Round(105, 30, 30, 0, 28), Jobs.Block(142, 0, 152, 60, 0, 22), Jobs.Round(167, 30, 12, -5, 20, CutKind.Drawn)).Bare(2);
        var cut = Assert.Single(Make(job, CutCheck.Bed(180, 180)).Cut);
        var line = Assert.Single(cut.Plan.Cuts);
        Assert.True(line.IsAcrossX);
        Assert.NotEmpty(line.Tails);
        Assert.InRange(line.At, 120.6 + 4, 141.4 - 4 - line.Tails.Max(t => t.Depth));
        Assert.Equal(2, cut.Pieces.Length);
    }

    [Fact]
    public void As_many_pieces_as_straight_cuts_ask_for_and_no_more_each_named_for_its_place()
    {
        var kit = Make(Jobs.Of(Jobs.Block(0, 0, 400, 260, 0, 10)).Bare(2), CutCheck.Bed(220, 160));
        var cut = Assert.Single(kit.Cut);
        CutCheck.Sound(kit, cut, 220, 160);
        // 400 × 260 on 220 × 160 less the dovetails: two by two.
        Assert.Equal(["cope-left-front", "cope-left-back", "cope-right-front", "cope-right-back"], cut.Pieces.Select(p => p.Name));
        Assert.Equal(cut.Pieces, kit.AllBodies);
        foreach (var piece in cut.Pieces)
        {
            var middle = 0.5 * (piece.InMould.Bounds().Low + piece.InMould.Bounds().High);
            Assert.Equal((piece.Name.Contains("left", StringComparison.Ordinal), piece.Name.Contains("front", StringComparison.Ordinal)), (middle.X < 200, middle.Y < 130));
        }
    }

    [Fact]
    public void Nothing_is_sunk_into_the_joint_at_a_seam()
    {
        var job = Jobs.Of(Jobs.Block(0, 0, 300, 80, -20, 25));
        var kit = Make(job with { Parting = new(0), Gating = new(Wanted: false) }, CutCheck.Bed(180, 180));
        Assert.Equal(2, kit.Cut.Length);
        Assert.Equal(2, kit.Dowels.Length);
        Assert.Contains(kit.Handling, h => h.Screws.Any());
        Assert.Equal(2, kit.Plan.Marks.Length);
        foreach (var cut in kit.Cut)
        {
            CutCheck.Sound(kit, cut, 180, 180);
            var land = cut.Plan.Taken;
            var sunk = PlanRegion.Union(
            [
                .. kit.Dowels.Select(d => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.01)), .. kit.Handling.Where(h => h.Half == cut.Whole.Half).Select(h => h.Region),
                .. kit.Plan.Marks.Where(m => m.Half == cut.Whole.Half).Select(m => m.Region),
            ]);
            Assert.True(sunk.Intersection(land).IsEmpty);
            // What is sunk in stays in the pieces: their volumes with the strip make up the whole.
            Assert.Equal(cut.Whole.AsPrinted.Volume(), cut.Pieces.Sum(p => p.AsPrinted.Volume()), 0.002 * cut.Whole.AsPrinted.Volume());
        }

        KitCheck.Closed(kit);
    }

    [Fact]
    public void It_can_be_turned_off_and_is_told_either_way()
    {
        var job = Jobs.Of(Jobs.Block(0, 0, 300, 50, 0, 12)).Bare(2);
        var off = Make(job, CutCheck.Bed(180, 180, "cut_to_bed = false"));
        Assert.Empty(off.Cut);
        Assert.Equal(Severity.Warn, Assert.Single(off.Findings, f => f.Code == "over-bed").Severity);
        Assert.DoesNotContain(off.Findings, f => f.Code == "cut-to-bed");
        var on = Make(job, CutCheck.Bed(180, 180));
        var told = Assert.Single(on.Findings, f => f.Code is "cut-to-bed" or "over-bed");
        Assert.Equal(("cut-to-bed", Severity.Note, "shop.toml"), (told.Code, told.Severity, told.Source));
        Assert.Equal(2, Assert.Single(on.Decisions, d => d.Key == "pieces_cope").Value);
        Assert.Equal(0.2, Assert.Single(on.Decisions, d => d.Key == "piece_gap_cope_mm").Value);
        // The whole is reckoned with as ever.
        Assert.Equal(off.Bridge.Sum_mm3, on.Bridge.Sum_mm3, 1e-6);
        Assert.Equal(off.Cope().AsPrinted.Volume(), on.Cope().AsPrinted.Volume(), 1e-6 * on.Cope().AsPrinted.Volume());
    }

    [Fact]
    public void A_body_that_is_too_high_is_cut_in_plan_only_and_told()
    {
        var kit = Make(Jobs.Of(Jobs.Block(0, 0, 300, 50, 0, 30)).Bare(2), CutCheck.Bed(180, 180, "height_mm = 20"));
        Assert.Equal(2, Assert.Single(kit.Cut).Pieces.Length);
        Assert.Equal(2, kit.Findings.Count(f => f.Code == "over-bed" && f.Severity == Severity.Warn));
    }

    // A cup moulded mouth down, its recess cut through: the underside has walls along the cut as well.
    [Fact]
    public void A_recess_from_below_and_a_hole_through_are_cut_like_the_rest()
    {
        var job = Jobs.Of(
            Jobs.Block(0, 0, 300, 70, 0, 30), Jobs.Block(12, 12, 288, 58, -5, 20, CutKind.Drawn), Jobs.Round(200, 35, 30, 10, 40, CutKind.Drawn)).Bare(2, joint_mm: 0);
        var kit = Make(job, CutCheck.Bed(130, 130));
        var cut = Assert.Single(kit.Cut);
        Assert.Equal(3, cut.Pieces.Length);
        CutCheck.Sound(kit, cut, 130, 130);
        Assert.All(cut.Pieces, p => CutCheck.Drafted(p, 2 * KitCheck.Degree));
        Assert.Equal(cut.Whole.AsPrinted.Volume(), cut.Pieces.Sum(p => p.AsPrinted.Volume()), 0.004 * cut.Whole.AsPrinted.Volume());
    }

    // A round bar of a mesh, 220 mm long, straight or leaning by 10°.
    [Theory]
    [InlineData("flat", true)]
    [InlineData("carved", false)]
    public void Halves_of_a_mesh_are_cut_and_those_of_a_carved_joint_are_not(string joint, bool isCut)
    {
        var bar = JobFolder.Read(
            ObjBodies.RoundBar(9, 220, 40, 60, x => isCut ? 0 : x * Math.Tan(10 * KitCheck.Degree)), $"[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"{joint}\"\n[pattern]\ndraft = 2\n");
        var kit = Make(bar with { Gating = new(Wanted: false) }, CutCheck.Bed(120, 120));
        Assert.Equal(isCut ? 2 : 0, kit.Cut.Length);
        Assert.Equal(!isCut, kit.Findings.Any(f => f.Code == "over-bed"));
        foreach (var cut in kit.Cut) CutCheck.Sound(kit, cut, 120, 120);
    }

    private static readonly Gen<Feature> Anything = Gen.Select(Gen.Int[0, 3], Gen.Double[-70, 70], Gen.Double[-40, 40], Gen.Double[6, 60], Gen.Double[6, 50], Gen.Int[2, 18]).Select(
        (kind, x, y, a, b, height) => kind switch
        {
            0 => Jobs.Block(x - (a / 2), y - (b / 2), x + (a / 2), y + (b / 2), 0, 10 + height),
            1 => Jobs.Round(x, y, a, 0, 10 + height),
            2 => Jobs.Round(x, y, a / 2, -40, 60, CutKind.Drawn),
            _ => Jobs.Block(x - (a / 2), y - (b / 2), x + (a / 2), y + (b / 2), height, 60, CutKind.Drawn),
        });

    [Fact]
    public void Halves_of_any_job_come_apart_into_sound_pieces() => AnyJob.Sample(Sound, iter: 6, threads: 1);

    private static readonly Gen<(Feature[] Features, int X, int Y, bool IsPlain)> AnyJob = Gen.Select(Anything.Array[0, 4], Gen.Int[70, 130], Gen.Int[60, 130], Gen.Bool);

    private static void Sound((Feature[] Features, int X, int Y, bool IsPlain) any)
    {
        var job = Jobs.Of([Jobs.Block(-90, -50, 90, 50, -6, 8), .. any.Features]) with { Gating = new(Wanted: false) };
        if (any.IsPlain) job = job with { Pattern = job.Pattern with { Fillet = new(0, ImmutableDictionary<string, double>.Empty) } };
        Kit kit;
        try
        {
            kit = Make(job, CutCheck.Bed(any.X, any.Y));
        }
        catch (Exchange.InputException)
        {
            // A cut that opens nowhere: said so, and nothing made.
            return;
        }

        var asked = kit.Decisions.Where(d => d.Key is "draft_outside_deg" or "draft_inside_deg").Min(d => d.Value) * KitCheck.Degree;
        foreach (var cut in kit.Cut)
        {
            CutCheck.Sound(kit, cut, any.X, any.Y);
            Assert.All(cut.Pieces, p => Assert.True(p.LeastDraft >= asked - KitCheck.DraftSlack || kit.Findings.Any(f => f.Code == "no-draft"), $"{p.Name}: {p.LeastDraft / KitCheck.Degree}°"));
        }
    }

    private static Kit Make(Job job, FoundryTables tables) => KitBuilder.Build(job, tables);
}
