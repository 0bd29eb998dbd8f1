using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Coupons;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;
using PatternKit.Patterns.Tests.Pieces;

namespace PatternKit.Patterns.Tests.Coupons;

/// <summary>Coupons against closed forms of their rib, block and pockets, and against the draw check of parts with such pockets.</summary>
public class CouponTests
{
    private static readonly Job Plate = Jobs.Of(Jobs.Block(0, 0, 60, 40, 0, 20)) with { Coupon = true };

    private static KitCoupon Made(Job job) => KitCheck.Build(job).Coupon!;

    [Fact]
    public void Half_once_and_double_the_draft_are_tried_and_no_coupon_is_made_unasked()
    {
        var coupon = Made(Plate.Bare(1.5, 3));
        Assert.Equal([(0.75, 1.5), (1.5, 3), (3, 6)], coupon.Trials.Select(t => (Math.Round(t.Draft.Outside / KitCheck.Degree, 9), Math.Round(t.Draft.Inside / KitCheck.Degree, 9))));
        Assert.Equal(["0.75/1.5", "1.5/3", "3/6"], coupon.Trials.Select(t => t.Figures));
        Assert.Equal(["coupon-1.stl", "coupon-2.stl", "coupon-3.stl"], coupon.Bodies.Select(b => b.FileName));
        // The pattern is 20 mm high: the walls are as high as the table lets them be.
        Assert.All(coupon.Trials, t => Assert.Equal(16, t.Walls_mm));
        Assert.Null(KitCheck.Build((Plate with { Coupon = false }).Bare(1.5, 3)).Coupon);
        // Half of the least draft is no draft of this program: what comes out twice is made once.
        Assert.Equal(2, Made(Plate.Bare(0.25)).Trials.Length);
    }

    // A drafted wall stands (H - z) tan θ out of its tip, on both sides of the rib; a pocket is as much narrower all round.
    [Theory]
    [InlineData(1.5, 3)]
    [InlineData(1, 1)]
    [InlineData(4, 6)]
    public void Rib_and_pockets_have_the_sections_of_their_draft(double outside_deg, double inside_deg)
    {
        var coupon = Made(Plate.Bare(outside_deg, inside_deg));
        foreach (var t in coupon.Trials)
        {
            KitCheck.Valid(t.Body.AsPrinted, t.Body.Name);
            Assert.Equal(0, t.Body.AsPrinted.Bounds().Low.Z);
            Assert.Equal(t.Walls_mm, t.Body.AsPrinted.Bounds().High.Z, 1e-4);
            Assert.True(t.Body.LeastDraft >= Math.Min(t.Draft.Outside, t.Draft.Inside) - KitCheck.DraftSlack, $"{t.Body.LeastDraft / KitCheck.Degree}°");
            foreach (var z in new[] { 6.0, 11.5, 15.5 })
            {
                var (o, i) = ((t.Walls_mm - z) * Math.Tan(t.Draft.Outside), (t.Walls_mm - z) * Math.Tan(t.Draft.Inside));
                var pieces = t.Body.Section(z).Pieces().OrderBy(p => p.Centroid.Y).ToArray();
                Assert.Equal(2, pieces.Length);
                Assert.Equal(4 + (2 * o), pieces[0].Extent().Y, 2e-3);
                Assert.Equal(t.Gap_mm - (2 * o), pieces[1].Geometry.EnvelopeInternal.MinY - pieces[0].Geometry.EnvelopeInternal.MaxY, 2e-3);
                var block = pieces[1];
                var full = block.Extent().X * block.Extent().Y;
                var holes = t.Pockets.Sum(p => Math.PI * Math.Pow((p.Diameter_mm / 2) - i, 2));
                // Draft goes round a corner of the plan by a cone.
                Assert.Equal(holes + ((4 - Math.PI) * o * o), full - block.Area, 0.005 * holes);
            }
        }
    }

    // Standing limits of sands.toml: green 1, oil-bonded 1.2, resin-bonded 2 times the width (common practice).
    [Theory]
    [InlineData("green", 1)]
    [InlineData("oil-bonded", 1.2)]
    [InlineData("resin-bonded", 2)]
    public void One_pocket_stands_at_the_limit_of_the_sand_and_one_beyond_it(string sand, double limit)
    {
        var t = Made((Plate with { Sand = sand }).Bare(0.5)).Trials[1];
        Assert.Equal([limit, Math.Round(1.5 * limit, 9)], t.Pockets.Select(p => Math.Round(p.Slenderness, 9)));
        // The draw check of a part that has both in its drag, and a third just below the limit, tells the second alone.
        var depth = t.Pockets[0].Depth_mm;
        Feature Hole(double x, double d) => Jobs.Round(x, 0, d, -16, depth - 16, CutKind.Drawn, $"hole {x:0}");
        var block = Jobs.Of(Jobs.Block(-20, -30, 100, 30, -16, 0), Hole(0, 1.02 * t.Pockets[0].Diameter_mm), Hole(40, t.Pockets[1].Diameter_mm), Hole(80, 0.98 * t.Pockets[0].Diameter_mm));
        var told = KitCheck.Build((block with { Sand = sand }).Bare(0.5, joint_mm: 0)).Findings.Where(f => f.Code == "deep-hole").ToArray();
        Assert.Equal([40, 80], told.Select(f => Math.Round(f.At_mm!.Value.X)).Order());
    }

    [Fact]
    public void A_pocket_keeps_half_of_its_mouth_at_its_floor()
    {
        // tan 20° = 0.364: no more than 0.687 times as deep as wide, below the limit of green sand.
        var t = Made((Plate with { Sand = "green" }).Bare(2, 20)).Trials[1];
        var pocket = Assert.Single(t.Pockets);
        Assert.Equal(0.5, 1 - (2 * pocket.Slenderness * Math.Tan(20 * KitCheck.Degree)), 1e-9);
    }

    [Theory]
    [InlineData("lever-bracket")]
    [InlineData("pump-body")]
    public void Coupons_of_templates_are_sound_and_lie_clear_of_everything_else(string name)
    {
        var kit = KitCheck.Build(KitCheck.Template(name) with { Coupon = true });
        var coupon = kit.Coupon!;
        Assert.All(coupon.Trials, t =>
        {
            KitCheck.Valid(t.Body.AsPrinted, t.Body.Name);
            Assert.True(t.Body.LeastDraft >= Math.Min(t.Draft.Outside, t.Draft.Inside) - KitCheck.DraftSlack, $"{t.Body.Name}: {t.Body.LeastDraft / KitCheck.Degree}°");
            Assert.NotEmpty(t.Handling.Screws);
        });
        var boxes = kit.AllBodies.Where(b => !b.Name.StartsWith("core-", StringComparison.Ordinal)).Select(b => b.InMould.Bounds()).ToArray();
        foreach (var box in coupon.Bodies.Select(b => b.InMould.Bounds()))
            Assert.Single(boxes, b => b.Low.X < box.High.X && box.Low.X < b.High.X && b.Low.Y < box.High.Y && box.Low.Y < b.High.Y);
        Assert.DoesNotContain(kit.Findings, f => f.Code is "no-draft" or "open-mesh");
    }

    [Fact]
    public void A_small_bed_gets_lower_walls()
    {
        var job = Plate.Bare(1.5, 3) with { Sand = "green" };
        Assert.Contains(KitCheck.Build(job).Coupon!.Bodies, b => b.AsPrinted.Bounds().Size.Y > 55);
        var kit = KitBuilder.Build(job, CutCheck.Bed(55, 45));
        Assert.All(kit.Coupon!.Trials, t => Assert.InRange(t.Walls_mm, 8, 15));
        Assert.DoesNotContain(kit.Findings, f => f.Code == "over-bed" && f.Message.Contains("coupon", StringComparison.Ordinal) && f.Severity == Severity.Warn);
    }

    [Fact]
    public void The_job_asks_for_it_with_a_word()
    {
        const string rest = "title = \"x\"\nunit = \"mm\"\nalloy = \"AlSi7Mg\"\nsand = \"green\"\n[[part]]\nshape = { circle = 40 }\nz = [0, 12]\n";
        Assert.True(JobFolder.Read("coupon = true\n" + rest).Coupon);
        Assert.False(JobFolder.Read("coupon = false\n" + rest).Coupon);
        Assert.False(JobFolder.Read(rest).Coupon);
    }
}
