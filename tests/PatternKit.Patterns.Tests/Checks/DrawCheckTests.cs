using CsCheck;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Checks;

/// <summary>
/// Parts with one fault planted: its place and sizes are those it was made with. With sizes that hold at the tip, the mouth of a slot or
/// hole and the top of a rib have their nominal width.
/// </summary>
public sealed class DrawCheckTests(ITestOutputHelper output)
{
    private const double Near_mm = 2, Close = 0.05;
    private static readonly string[] Codes = ["deep-hole", "sand-tongue", "thin-section"];
    private static readonly Sand Green = FoundryTables.Default.Sand("green");

    [Fact]
    public void A_hole_deeper_than_its_width_allows_is_found() =>
        Gen.Select(Gen.Bool, Gen.Double[-15, 15], Gen.Double[-15, 15], Gen.Double[5, 14], Gen.Double[1.3, 2.5]).Sample(
            (hangs, x, y, width, excess) =>
            {
                var limit = (hangs ? Green.HangingLimit : Green.StandingLimit).Value;
                var height = limit * width * excess;
                var found = Planted(hangs ? 0 : height, Block(-40, -40, 40, 40, 0, height), Round(x, y, width, 0, height, CutKind.Drawn));
                Sand("deep-hole", found, limit, width, height);
                At(found, new(x, y), height / 2);
            },
            iter: 15, threads: 1);

    [Fact]
    public void A_square_recess_deeper_than_its_width_allows_is_found() =>
        Gen.Select(Gen.Bool, Gen.Double[-15, 15], Gen.Double[-15, 15], Gen.Double[5, 14], Gen.Double[1.3, 2.5], Gen.Double[1, 2]).Sample(
            (hangs, x, y, width, excess, longer) =>
            {
                var limit = (hangs ? Green.HangingLimit : Green.StandingLimit).Value;
                var (depth, half) = (limit * width * excess, width * longer / 2);
                // The recess opens upward in the cope, downward in the drag, and has a floor of 8.
                var found = hangs
                    ? Planted(0, Block(-40, -40, 40, 40, 0, depth + 8), Block(x - half, y - (width / 2), x + half, y + (width / 2), 8, depth + 8, CutKind.Drawn))
                    : Planted(depth + 8, Block(-40, -40, 40, 40, 0, depth + 8), Block(x - half, y - (width / 2), x + half, y + (width / 2), 0, depth, CutKind.Drawn));
                Sand("deep-hole", found, limit, width, depth);
                Along(found, new(x - half, y), new(x + half, y));
            },
            iter: 15, threads: 1);

    [Fact]
    public void Sand_of_the_drag_in_a_recess_of_the_cope_stands() =>
        Gen.Select(Gen.Double[-15, 15], Gen.Double[5, 14], Gen.Double[1.3, 2.5]).Sample(
            (x, width, excess) =>
            {
                var depth = width * excess;
                var found = Planted(0, Block(-40, -40, 40, 40, 0, depth + 8), Round(x, 3, width, 0, depth, CutKind.Drawn));
                Sand("deep-hole", found, Green.StandingLimit.Value, width, depth);
                At(found, new(x, 3), depth / 2);
            },
            iter: 8, threads: 1);

    [Fact]
    public void A_slot_open_at_one_end_or_both_is_a_tongue_of_sand() =>
        // The metal at a closed end is thick enough to run, so that the sand is all there is to find.
        Gen.Select(Gen.Bool, Gen.Double[-35, 0], Gen.Double[-15, 15], Gen.Double[4, 12], Gen.Double[1.3, 2.5]).Sample(
            (through, end, y, width, excess) =>
            {
                var depth = Green.HangingLimit.Value * width * excess;
                var from = through ? -50 : end;
                var found = Planted(
                    0, Block(-40, -40, 40, 40, 0, depth + 8), Block(from, y - (width / 2), 50, y + (width / 2), 8, depth + 8, CutKind.Drawn));
                Sand("sand-tongue", found, Green.HangingLimit.Value, width, depth);
                Along(found, new(Math.Max(from, -40), y), new(40, y));
            },
            iter: 15, threads: 1);

    [Fact]
    public void The_gap_between_a_boss_and_a_rib_is_a_tongue_where_it_is_narrowest() =>
        Gen.Select(Gen.Double[14, 24], Gen.Double[3, 8], Gen.Double[1.3, 2], Gen.Double[-10, 10]).Sample(
            (boss, gap, excess, y) =>
            {
                var depth = Green.HangingLimit.Value * gap * excess;
                var x = -20 + (boss / 2);
                var found = Planted(
                    0, Block(-50, -40, 50, 40, 0, 8), Round(-20, y, boss, 8, 8 + depth), Block(x + gap, y - 8, x + gap + 20, y + 8, 8, 8 + depth));
                Sand("sand-tongue", found, Green.HangingLimit.Value, gap, depth);
                At(found, new(x + (gap / 2), y), 8 + (depth / 2));
            },
            iter: 12, threads: 1);

    [Fact]
    public void A_rib_thinner_than_runs_is_found() =>
        Gen.Select(Gen.Bool, Gen.Double[1, 2.7], Gen.Double[-20, 20], Gen.Double[5, 10], Gen.Double[20, 40]).Sample(
            (below, thick, y, height, half) =>
            {
                var (low, high) = below ? (-height, 0.0) : (8.0, 8 + height);
                var found = Planted(below ? 8 : 0, Block(-50, -40, 50, 40, 0, 8), Block(-half, y - (thick / 2), half, y + (thick / 2), low, high));
                Thin(found, thick);
                Along(found, new(-half, y), new(half, y));
            },
            iter: 12, threads: 1);

    [Fact]
    public void A_web_thinner_than_runs_is_found() =>
        Gen.Select(Gen.Double[1, 2.7], Gen.Double[-10, 10], Gen.Double[8, 20]).Sample(
            (thick, x, half) =>
            {
                var found = Planted(0, Block(-40, -40, 40, 40, 0, 6), Block(x - half, -half, x + half, half, thick, 6, CutKind.Drawn));
                Thin(found, thick);
                Assert.Equal(thick / 2, found.At_mm!.Value.Z, 1e-3);
                Assert.InRange(found.At_mm!.Value.X, x - half, x + half);
            },
            iter: 12, threads: 1);

    [Fact]
    public void Clean_parts_give_nothing() =>
        Gen.Select(Gen.Int[0, 4], Gen.Double[-10, 10], Gen.Double[0.5, 0.9], Gen.Double[3.3, 6]).Sample(
            (kind, x, share, thick) =>
            {
                // Holes, slots and gaps shallower than the limit, walls thicker than the least, and big recesses with square corners.
                var plate = Block(-50, -40, 50, 40, 0, 6);
                Feature[] part = kind switch
                {
                    0 => [Block(-40, -40, 40, 40, 0, 12), Round(x, 5, 24 / share, 0, 12, CutKind.Drawn)],
                    1 => [Block(-50, -40, 50, 40, 0, 20), Block(x - 15, -15, x + 15, 15, 20 - (15 * share), 20, CutKind.Drawn)],
                    2 => [plate, Block(x - (thick / 2), -30, x + (thick / 2), 30, 6, 16)],
                    3 => [plate, Round(-20, x, 20, 6, 6 + (5 * share)), Block(0, x - 8, 30, x + 8, 6, 6 + (5 * share))],
                    _ => [Block(-40, -40, 40, 40, 0, thick), Round(x, 0, 24, thick, 18), Block(x - 30, -3, x, 3, thick, 14)],
                };
                Assert.Empty(Found(0, part).Select(f => f.Message));
            },
            iter: 25, threads: 1);

    [Fact]
    public void Shallow_narrow_sand_is_let_pass()
    {
        var least = FoundryTables.Default.DrawCheck.LeastDepth_mm.Value;
        Feature[] Scored(double depth) => [Block(-40, -40, 40, 40, 0, 10), Block(-50, -0.5, 50, 0.5, 10 - depth, 10, CutKind.Drawn)];
        Assert.Empty(Found(0, Scored(0.9 * least)));
        Assert.Single(Found(0, Scored(1.1 * least)));
    }

    [Fact]
    public void The_shop_s_own_limit_goes_before()
    {
        Feature[] part = [Block(-40, -40, 40, 40, 0, 12), Round(0, 0, 16, 0, 12, CutKind.Drawn)];
        Assert.Equal(Green.HangingLimit.From.Text, Assert.Single(Found(0, part)).Source);
        var own = FoundryTables.Default.With("[sands.green]\nhanging_limit = { times_width = 0.8 }", "shop.toml");
        Assert.Empty(Checked(KitBuilder.Build(JobOf(0, part), own)));
    }

    [Fact]
    public void A_hole_that_closes_is_told_once()
    {
        var found = Planted(0, Block(-40, -40, 40, 40, 0, 40), Round(0, 0, 1, 0, 40, CutKind.Drawn));
        Assert.Equal("deep-hole", found.Code);
        Assert.Contains("closes", found.Message, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(TemplateTests.Names), MemberType = typeof(TemplateTests))]
    public void A_template_has_few_findings(string name)
    {
        var kit = KitBuilder.Build(JobReader.Read(JobFolder.Repository("templates", name, "job.toml")), FoundryTables.Default);
        var found = Checked(kit);
        foreach (var f in found) output.WriteLine($"{f.Code}: {f.Message}");
        Assert.InRange(found.Length, 0, 3);
    }

    private static Job JobOf(double parting, Feature[] part) => Of(part) with
    {
        Sand = "green",
        Parting = new(parting),
        Pattern = new(KitCheck.Degree, KitCheck.Degree, Contraction: 0, Rapping_mm: 0, Dowels: false),
        Gating = new(false),
    };

    private static Finding[] Checked(Kit kit) => [.. kit.Findings.Where(f => Codes.Contains(f.Code))];

    private static Finding[] Found(double parting, params Feature[] part) => Checked(KitCheck.Build(JobOf(parting, part)));

    private static Finding Planted(double parting, params Feature[] part) => Assert.Single(Found(parting, part));

    private static void Sand(string code, Finding found, double limit, double width, double depth)
    {
        Assert.Equal(code, found.Code);
        Assert.InRange(found.Value!.Value, depth * (1 - Close), depth * (1 + Close));
        Assert.InRange(found.Limit!.Value / limit, width * (1 - Close), width * (1 + Close));
        Assert.NotEmpty(found.Remedy!);
    }

    private static void Thin(Finding found, double thick)
    {
        Assert.Equal("thin-section", found.Code);
        Assert.InRange(found.Value!.Value, thick * (1 - Close), thick * (1 + Close));
        Assert.Equal(FoundryTables.Default.Alloy("AlSi7Mg").MinimumSection_mm!.Value, found.Limit);
        Assert.Equal(FoundryTables.Default.Alloy("AlSi7Mg").MinimumSection_mm!.From.Text, found.Source);
    }

    private static void At(Finding found, Vec2 plan, double z)
    {
        Assert.InRange((found.At_mm!.Value.Plan - plan).Length, 0, Near_mm);
        Assert.Equal(z, found.At_mm!.Value.Z, Near_mm);
    }

    /// <summary>On the middle line of a slot or rib, between its ends.</summary>
    private static void Along(Finding found, Vec2 from, Vec2 to)
    {
        var p = found.At_mm!.Value;
        Assert.Equal(from.Y, p.Y, Near_mm);
        Assert.InRange(p.X, from.X - Near_mm, to.X + Near_mm);
    }
}
