using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Impressions;

/// <summary>Different parts of one alloy in one mould: each is what it would be alone, all part in one plane, and each is filled as its metal asks.</summary>
public sealed class MixedMouldTests
{
    private const double Draft_deg = 2;

    private static readonly Job Block = Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 20)) with { Name = "block" };

    private static readonly Job Disc = Jobs.Of(Jobs.Round(0, 0, 60, 0, 12, name: "disc")) with { Name = "disc" };

    private static OtherPart Beside(Job job, int count = 1, params Vec2[] at) => new(job, Math.Max(count, at.Length), [.. at], 0, "job.toml, line 20");

    // A prism of height h under draft is a stack of its outline grown by t = (h − z) tan θ: V = A h + L h² tan θ / 2 + π h³ tan² θ / 3, with the area A and the length L of its outline (Steiner's formula).
    private static double Drafted_mm3(double area, double length, double h) =>
        (area * h) + (length * h * h * Math.Tan(Draft_deg * KitCheck.Degree) / 2) + (Math.PI * h * h * h * Math.Pow(Math.Tan(Draft_deg * KitCheck.Degree), 2) / 3);

    [Fact]
    public void The_metal_is_that_of_all_parts_by_their_closed_forms()
    {
        var kit = KitCheck.Build(Block.Bare(Draft_deg, joint_mm: 0) with { Others = [Beside(Disc, 2)] });
        KitCheck.Sound(kit);
        var (block, disc) = (Drafted_mm3(80 * 50, 260, 20), Drafted_mm3(Math.PI * 900, Math.PI * 60, 12));
        var metal_mm3 = kit.Metal.Casting_kg / kit.Metal.Density_kg_m3 * 1e9;
        Assert.Equal(block + (2 * disc), metal_mm3, 2e-4 * metal_mm3);
        Assert.Equal([block, disc], kit.CastParts.Select(p => p.Each_kg / kit.Metal.Density_kg_m3 * 1e9), (a, b) => Math.Abs(a - b) < 1e-3 * a);
        Assert.Equal([("block", 1), ("disc", 2)], kit.CastParts.Select(p => (p.Name, p.At_mm.Length)));
        Assert.Equal(3, kit.CastingCount);
        Assert.DoesNotContain(kit.Findings, f => f.Code is "separate-pieces" or "impressions-near");
    }

    // R 1 by rule (fillets.toml), r² (cot(β/2) − (π − β)/2) for β = 92° along each edge (memory), corners in plan beside.
    [Theory]
    [InlineData(true, false)]
    [InlineData(false, true)]
    [InlineData(true, true)]
    public void Edges_broken_by_rule_are_broken_in_the_part_that_asks_for_it(bool first, bool second)
    {
        var auto = new RadiusSettings(null, ImmutableDictionary<string, double>.Empty);
        var block = Block.Bare(Draft_deg, joint_mm: 0);
        var kit = KitCheck.Build(block with
        {
            Pattern = block.Pattern with { Round = first ? auto : null },
            Others = [Beside(Disc with { Pattern = new(Round: second ? auto : null) }, at: new Vec2(120, 0))],
        });
        KitCheck.Sound(kit);
        var beta = 92 * KitCheck.Degree;
        var area = (1 / Math.Tan(beta / 2)) - ((Math.PI - beta) / 2);
        var corners = 4 * 20 * (1 - (Math.PI / 4));
        var expected = ((first ? 260 : 0) + (second ? 60 * Math.PI : 0)) * area;
        Assert.InRange(-kit.Bridge.Round_mm3, 0.97 * expected, expected + (first ? 2.2 * corners : 0.03 * expected));
    }

    // Each parts at its own height: the second at 36 mm of its own, in the middle of it, and comes to lie 6 mm above and below the joint of the first.
    [Fact]
    public void Joints_are_brought_together_and_the_upper_and_lower_ends_are_as_far_from_them_as_alone()
    {
        var raised = Jobs.Of(Jobs.Round(0, 0, 60, 30, 42, name: "disc")) with { Name = "disc", Parting = new(36) };
        var kit = KitCheck.Build(Block.Bare(Draft_deg) with { Others = [Beside(raised, at: new Vec2(120, 0))] });
        KitCheck.Sound(kit);
        Assert.Equal(0.0, kit.Parting.Height_mm);
        Assert.Contains("disc: given in the job", kit.Parting.Reason, StringComparison.Ordinal);
        Assert.Contains("moved by -36 mm", kit.Parting.Reason, StringComparison.Ordinal);
        Assert.Equal((20.0, 6.0), (Highest(kit.Cope(), x => x < 60), Highest(kit.Cope(), x => x > 60)));
        Assert.Equal(-6.0, kit.Drag().InMould.Vertices.Min(v => v.Z));
        Assert.All(kit.Drag().InMould.Vertices, v => Assert.True(v.X > 60));

        static double Highest(KitBody body, Func<double, bool> where) => Math.Round(body.InMould.Vertices.Where(v => where(v.X)).Max(v => v.Z), 4);
    }

    // With automatic joints the block lies with a flat back, and the ring with a rim below could part at 0 or at 8 for no metal: alone it parts at its largest face, 8, where its rim is in the drag and no runner would pass both.
    [Fact]
    public void A_joint_that_may_lie_at_several_heights_is_put_where_one_runner_gates_both()
    {
        var cover = Jobs.Of(Jobs.Round(0, 0, 80, 0, 8, name: "flange"), Jobs.Round(0, 0, 40, 8, 20, name: "dome"), Jobs.Round(0, 0, 50, -6, 0, name: "spigot")) with { Name = "cover" };
        var kit = KitCheck.Build(Block with { Others = [Beside(cover)] });
        Assert.Equal(2, kit.Gating!.Bars.Count(b => b.Kind == BarKind.Ingate));
        Assert.Contains("same half", kit.Parting.Reason, StringComparison.Ordinal);
        Assert.Equal(-6 * kit.Scale, kit.Drag().InMould.Vertices.Min(v => v.Z), 2e-3);
    }

    [Fact]
    public void Names_stock_and_measures_of_another_part_are_its_own()
    {
        var disc = Disc with
        {
            Pattern = new(Stock: new(Top_mm: 3, Names_mm: Jobs.Names("disc", 2))),
            Measures = [new("across", 60, new(-30, 0, 6), new(30, 0, 6))],
        };
        var ring = Jobs.Of(Jobs.Round(0, 0, 60, 0, 12, name: "disc")) with { Name = "ring", Pattern = new(Stock: new(Top_mm: 3)) };
        var job = Block.Bare(Draft_deg, joint_mm: 0) with { Measures = [new("length", 80, new(-40, 0, 5), new(40, 0, 5))], Others = [Beside(disc, at: new Vec2(120, 0)), Beside(ring, at: new Vec2(220, 0))] };
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Stock = new(Top_mm: 1) } });
        Assert.Equal(["block", "disc: disc", "ring: disc"], kit.Job.Features.Select(f => f.Name));
        Assert.Equal(["length", "disc: across"], kit.Measures.Select(m => m.Name));
        // Top faces over the joint: stock of the part, on all faces of a name (the disc grows below the joint too, and the joint is at its own lower end).
        double Top(double from, double to) => Math.Round(kit.Cope().InMould.Vertices.Where(v => v.X > from && v.X < to).Max(v => v.Z), 4);
        Assert.Equal((21.0, 16.0, 15.0), (Top(-70, 70), Top(85, 155), Top(185, 255)));
        // 8 mm under the top, which is where sizes hold.
        Assert.Equal(64 + (2 * 8 * Math.Tan(Draft_deg * KitCheck.Degree)), kit.Measures[1].Pattern_mm!.Value, 0.01);
        Assert.Contains(kit.Decisions, d => d.Key == "stock_disc: disc_mm" && d.Value == 2);
        Assert.Contains(kit.Decisions, d => d.Key == "stock_ring_top_mm" && d.Value == 3);
    }

    [Fact]
    public void A_part_is_turned_about_its_own_origin_with_what_lies_along_an_axis()
    {
        var bar = Jobs.Of(
            Jobs.Block(0, -10, 60, 10, -10, 10, name: "bar"),
            new Feature("end", null, [PlanPath.Polygon(new(60, 0), new(80, 0), new(80, 6), new(60, 6))], -6, 6, CutKind.None, "job.toml, line 9", new(TurnedAxis.X, default))) with
        { Name = "bar", Parting = new(0) };
        foreach (var (degrees, low, high) in new[] { (90, new Vec2(110, 0), new Vec2(130, 80)), (180, new Vec2(40, -10), new Vec2(120, 10)), (270, new Vec2(110, -80), new Vec2(130, 0)) })
        {
            var kit = KitCheck.Build(Block.Bare(0.25, joint_mm: 0) with { Others = [Beside(bar, at: new Vec2(120, 0)) with { Turn = degrees * KitCheck.Degree }] });
            var box = kit.Plan.DragOutline.Geometry.EnvelopeInternal;
            Assert.Equal([low.X, low.Y, high.X, high.Y], new[] { box.MinX, box.MinY, box.MaxX, box.MaxY }, (a, b) => Math.Abs(a - b) < 0.1);
        }
    }

    // Each ingate lets in what its casting takes, so its area is to all of them as its metal is to all metal (continuity).
    [Fact]
    public void Ingates_are_as_large_as_the_metal_that_each_casting_takes_and_all_are_full_at_about_the_same_time()
    {
        // 120 × 60 × 20 and 60 × 40 × 20: three to one.
        var (large, small) = (Jobs.Of(Jobs.Block(-60, -30, 60, 30, 0, 20)) with { Name = "large" }, Jobs.Of(Jobs.Block(-30, -20, 30, 20, 0, 20)) with { Name = "small" });
        var kit = KitCheck.Build(large with { Others = [Beside(small)], Feeders = false });
        KitCheck.Sound(kit);
        var gating = kit.Gating!;
        var (r, whole) = (gating.Reckoning, kit.CastParts.Sum(p => p.Each_kg));
        Assert.Equal(3, kit.CastParts[0].Each_kg / kit.CastParts[1].Each_kg, 0.15);
        Assert.Equal(r.Choke_mm2.Value * r.RatioTaken.Value.Ingates / r.RatioTaken.Value.Least, r.Unlike.Sum(s => s.Area_mm2), 1e-9);
        var bars = gating.Bars.Where(b => b.Kind == BarKind.Ingate).ToArray();
        for (var casting = 0; casting < 2; casting++)
        {
            var measured = bars.Where((_, i) => gating.Castings[i] == casting).Sum(b => b.Cuts[0].Region.Area);
            Assert.Equal(kit.CastParts[casting].Each_kg / whole, measured / bars.Sum(b => b.Cuts[0].Region.Area), 0.01);
        }

        var full = kit.Filling!.CastingsFull_s;
        Assert.Equal(2, full.Length);
        Assert.True(full.Max() <= 1.15 * full.Min(), $"full after {string.Join(" and ", full)} s");
    }

    [Fact]
    public void The_runner_gives_each_casting_about_what_its_metal_asks_for_and_is_used_up_by_them()
    {
        var small = Jobs.Of(Jobs.Block(-30, -20, 30, 20, 0, 20)) with { Name = "small" };
        var large = Jobs.Of(Jobs.Block(-60, -30, 60, 30, 0, 20)) with { Name = "large", Others = [Beside(small)], Feeders = false };
        var kit = KitCheck.Build(large);
        var r = kit.Gating!.Reckoning;
        // A quarter of the metal is in the small one; alike ingates would give it half of the stream.
        Assert.InRange(kit.Filling!.Shares.Where((_, i) => kit.Gating.Castings[i] == 1).Sum(), 0.2, 0.3);
        Assert.Equal(1, r.Input.Shares.Sum(s => s.Part), 1e-12);
        Assert.Equal(0, r.RunnerAfter_mm2(r.Input.Ingates), 1e-9);
    }

    // Castings of one part are alike, so that one of each is reckoned; each section lies in the box of its casting.
    [Fact]
    public void What_freezes_last_is_told_of_the_first_casting_of_each_part_and_stands_in_all_of_it()
    {
        var kit = KitCheck.Build(Block with { Others = [Beside(Disc, 2)] });
        var spots = kit.Filling!.HotSpots;
        Assert.Equal([0, 1], spots.Select(s => s.Part).Distinct().Order());
        var (block, disc) = (kit.CastParts[0], kit.CastParts[1]);
        Assert.Equal([default, disc.At_mm[1] - disc.At_mm[0]], spots.Where(s => s.Part == 1).Select(s => s.Casting_mm).Distinct());
        Assert.All(spots, s =>
        {
            var middle = s.Part == 0 ? block.At_mm[0] : disc.At_mm[0] + s.Casting_mm;
            Assert.True(Math.Abs(s.At_mm.X - middle.X) < 40 && Math.Abs(s.At_mm.Y - middle.Y) < 30, $"{s.At_mm} about {middle}");
        });
        // All metal is in one casting of the first part and two of the second.
        Assert.Equal(1, spots.Where(s => s.Casting_mm == default).GroupBy(s => s.Part).Sum(p => (p.Key == 0 ? 1 : 2) * p.First().OfCasting_mm3) / (kit.Bridge.Pattern_mm3 - kit.Bridge.Pockets_mm3), 1e-6);
    }

    [Fact]
    public void Cores_of_another_part_are_boxed_once_and_counted_for_each_casting()
    {
        var bush = Jobs.Of(Jobs.Round(0, 0, 60, -20, 20, name: "bush"), Jobs.Round(0, 0, 30, -20, 20, CutKind.Cored, "bore")) with { Name = "bush", Parting = new(0) };
        var kit = KitCheck.Build(Block with { Parting = new(10), Others = [Beside(bush, 2)] });
        var core = Assert.Single(kit.Cores);
        Assert.Equal((2, "bush: bore"), (core.Count, core.Title));
        Assert.All(kit.AllBodies, b => KitCheck.Valid(b.AsPrinted, b.Name));
        Assert.True(Math.Abs(kit.Bridge.Gap) <= 1e-4, $"{kit.Bridge.Gap:R}");
    }

    [Fact]
    public void Radii_of_each_part_are_its_own()
    {
        ImmutableDictionary<string, double> none = ImmutableDictionary<string, double>.Empty;
        Job Stepped(string name) => Jobs.Of(Jobs.Block(-40, -40, 40, 40, 0, 10, name: "foot"), Jobs.Block(-15, -15, 15, 15, 0, 30, name: "block")) with { Name = name, Parting = new(0), Gating = new(Wanted: false) };
        var job = Stepped("one") with { Pattern = new(Fillet: new(2, none)), Others = [Beside(Stepped("other") with { Pattern = new(Fillet: new(6, none)) }, at: new Vec2(130, 0))] };
        var kit = KitCheck.Build(job);
        // Half way up the arc of a fillet of radius r along a straight wall, at r (1 − √½) over the floor, it stands about as far out of the wall.
        double Wide(double from, double z) => kit.Cope().Section(z * kit.Scale).Intersection(PlanRegion.Rectangle(new(from, -30), new(from + 90, 30))).Extent().X;
        var (one, other) = (Wide(-45, 12), Wide(85, 12));
        Assert.True(other > one + 2, $"{one} and {other} mm across at 2 mm over the floor");
    }

    [Fact]
    public void What_goes_by_the_size_of_a_part_and_serves_the_whole_mould_is_told()
    {
        var large = Jobs.Of(Jobs.Block(-200, -25, 200, 25, 0, 20)) with { Name = "beam" };
        var kit = KitCheck.Build(Block with { Gating = new(Wanted: false), Others = [Beside(large)] });
        Assert.Contains(kit.Findings, f => f.Code == "common-value" && f.Message.Contains("beam", StringComparison.Ordinal) && f.Message.Contains("rapping", StringComparison.Ordinal));
    }

    [Fact]
    public void Places_that_overlap_are_refused_at_the_line_of_the_table() =>
        Assert.Contains("line 20", Assert.Throws<InputException>(() => KitCheck.Build(Block with { Others = [Beside(Disc, at: new Vec2(50, 0))] })).Message, StringComparison.Ordinal);

    // Sand between patterns by the heaviest casting, for each mould that the rule lays: plates.toml, 30 mm up to 5 kg.
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(5)]
    public void Castings_by_rule_keep_the_sand_of_the_table_and_one_runner_reaches_all(int discs)
    {
        var kit = KitCheck.Build(Block with { Others = [Beside(Disc, discs)] });
        var pieces = kit.Plan.CopeOutline.Union(kit.Plan.DragOutline).Pieces().ToArray();
        Assert.Equal(1 + discs, pieces.Length);
        Assert.All(pieces.SelectMany((p, i) => pieces.Skip(i + 1).Select(o => p.Geometry.Distance(o.Geometry))), gap => Assert.True(gap >= 29.99, $"{gap} mm"));
        var gating = kit.Gating!;
        Assert.Equal(Enumerable.Range(0, 1 + discs), gating.Castings.Distinct().Order());
        var runner = Assert.Single(gating.Bars, b => b.Kind == BarKind.Runner);
        Assert.All(gating.Bars.Where(b => b.Kind == BarKind.Ingate), b =>
        {
            Assert.True(b.Plan.Intersection(runner.Plan).Area > b.Cuts[0].Reckoned_mm2, "the metal has to come through");
            Assert.Equal(b.Cuts[0].Reckoned_mm2, b.Cuts[0].Region.Area, 0.01 * b.Cuts[0].Reckoned_mm2);
            KitCheck.Valid(b.Body.AsPrinted, b.Body.Name);
        });
        // No bar runs through a casting or through another of its half.
        Assert.All(gating.Bars.Where(b => b.Kind != BarKind.Ingate), b => Assert.All(pieces, p => Assert.True(b.Plan.Intersection(p).IsEmpty, b.Body.Name)));
        var ingates = gating.Bars.Where(b => b.Kind == BarKind.Ingate).ToArray();
        Assert.All(ingates.SelectMany((a, i) => ingates.Skip(i + 1).Select(b => a.Plan.Intersection(b.Plan).Area)), area => Assert.Equal(0, area, 1e-6));
    }

    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(6)]
    public void Copies_by_rule_take_no_larger_flask_than_in_one_row(int count)
    {
        var block = Block with { Feeders = false };
        double Flask(ImmutableArray<Vec2> at) => KitCheck.Build(block with { Impressions = new(count, at, "job.toml, line 4") }).Pouring!.Flask.Inside is var f ? f.X_mm * f.Y_mm : 0;
        // A row along x or y with the least sand: 80 and 50 mm, draft at the foot and contraction taken up by the next whole millimetre.
        var rows = new[] { new Vec2(112, 0), new Vec2(0, 82) }.Min(step => Flask([.. Enumerable.Range(0, count).Select(i => i * step)]));
        Assert.True(Flask([]) <= rows, $"{Flask([])} of {rows} mm²");
    }

    [Fact]
    public void Real_parts_of_one_alloy_go_into_one_mould()
    {
        var cover = KitCheck.Template("strainer-cover");
        var kit = KitCheck.Build(KitCheck.Template("rod-guide") with { Others = [Beside(cover, 2)] });
        Assert.All(kit.AllBodies, b => KitCheck.Valid(b.AsPrinted, b.Name));
        Assert.DoesNotContain(kit.Findings, f => f.Severity == Severity.Stop || f.Code is "no-draft" or "impressions-near");
        Assert.Equal(3, kit.CastingCount);
        Assert.Equal(2, kit.Loose.Length);
        Assert.Equal(["rod-guide", "strainer-cover"], kit.CastParts.Select(p => p.Name));
        var alone = KitCheck.Build(cover with { Parting = new(0), Gating = new(Wanted: false) });
        Assert.Equal(alone.Metal.Casting_kg, kit.CastParts[1].Each_kg, 0.03 * alone.Metal.Casting_kg);
    }

    [Theory]
    [InlineData(PlateKind.Match)]
    [InlineData(PlateKind.Boards)]
    public void All_stand_on_one_plate(PlateKind kind)
    {
        var kit = KitCheck.Build(Block with { Parting = new(8), Others = [Beside(Disc with { Parting = new(4) }, 2)], Plate = new(kind) });
        Assert.All(kit.AllBodies, b => KitCheck.Valid(b.AsPrinted, b.Name));
        Assert.NotNull(kit.Plate);
        Assert.DoesNotContain(kit.Findings, f => f.Severity == Severity.Stop);
    }
}
