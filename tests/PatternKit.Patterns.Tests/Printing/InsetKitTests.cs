using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Printing;

/// <summary>What the files of a kit have where prints grow until they are finished.</summary>
public sealed class InsetKitTests
{
    private const double Tan2 = 0.034920769491747730501;
    private const double Cos2 = 0.99939082701909573001;
    private const double Oversize = 0.1;
    private const double Finish = 0.15;

    private static FoundryTables Shop(string printer) => FoundryTables.Default.With("[printer]\n" + printer, "shop.toml");

    /// <summary>A flange of the pump house, split, its halves dowelled.</summary>
    private static Job Split()
    {
        var job = Of(Block(-40, -25, 40, 25, -9, 12)).Bare(2);
        return job with { Parting = job.Parting with { At_mm = 0 }, Pattern = job.Pattern with { Dowels = true, DrawScrews = false } };
    }

    [Fact]
    public void Faces_that_sand_touches_are_further_in_by_oversize_and_finish_and_dowel_holes_are_wider_by_the_oversize()
    {
        var kit = KitBuilder.Build(Split(), Shop("oversize_mm = 0.1\nfinish_mm = 0.15\n"));
        Assert.Equal(["cope", "drag"], kit.Inset!.Files.Keys.Intersect(kit.Bodies.Select(b => b.Name)));
        Assert.DoesNotContain(kit.Findings, f => f.Code is "as-drawn" or "print-thin" or "first-layer");
        foreach (var body in kit.Bodies)
        {
            var (file, inMould) = kit.InFile(body);
            KitCheck.Valid(file, body.Name);
            var (was, now) = (body.AsPrinted.Bounds(), file.Bounds());
            Assert.Equal(0, now.Low.Z);
            Assert.Equal(was.High.Z - Oversize - Finish, now.High.Z, 1e-4);
            // A wall of draft θ moved by c along its normal stands c / cos θ further in on the bed.
            Assert.InRange(((was.High - now.High).Plan - ((Oversize + Finish) / Cos2 * new Vec2(1, 1))).Length, 0, 1e-3);
            Assert.Equal(file.Volume(), inMould.Volume(), 1e-6 * file.Volume());
            Assert.Equal(0, body.Half == MouldHalf.Cope ? inMould.Bounds().Low.Z : inMould.Bounds().High.Z, 1e-9);
            // The places of the holes are those of the dowels in both halves; a hole is a polygon of the circle's points.
            var holes = Holes(inMould, body.Half == MouldHalf.Cope ? 1 : -1);
            Assert.Equal(kit.Dowels.Length, holes.Length);
            foreach (var dowel in kit.Dowels)
            {
                var hole = Assert.Single(holes, h => Vec2.Distance(h.Centroid, dowel.At_mm) < 0.01);
                Assert.Equal(Math.PI / 4 * Math.Pow(dowel.Hole_mm + (2 * Oversize), 2), hole.Area, 0.01 * hole.Area);
            }
        }

        // All that is told of the pattern is about the finished bodies.
        var plain = KitBuilder.Build(Split(), FoundryTables.Default);
        Assert.Equal(plain.Bodies.Select(b => b.AsPrinted.Volume()), kit.Bodies.Select(b => b.AsPrinted.Volume()));
        Assert.Equal(["print_oversize_mm", "finish_mm"], kit.Decisions.Select(d => d.Key).Except(plain.Decisions.Select(d => d.Key)));
    }

    private static PlanRegion[] Holes(TriangleMesh mesh, double z) =>
        [.. PlanRegion.EvenOdd(MeshSection.AtHeight(mesh, z).Select(l => PlanPath.Polygon(l.AsSpan())), 1).Pieces().SelectMany(p => p.Filled().Difference(p).Pieces())];

    [Theory]
    [InlineData("bed_mm = [220, 220]\n")]
    [InlineData("oversize_mm = 0\nfinish_mm = 0\nnozzle_mm = 0.4\n")]
    public void Where_nothing_grows_the_files_have_the_very_bodies(string printer)
    {
        var kit = KitBuilder.Build(Split(), Shop(printer));
        Assert.Null(kit.Inset);
        Assert.All(kit.Bodies, b => Assert.Same(b.AsPrinted, kit.InFile(b).AsPrinted));
        Assert.All(kit.Bodies, b => Assert.Same(b.InMould, kit.InFile(b).InMould));
    }

    [Fact]
    public void The_job_says_another_finish_than_the_shop()
    {
        var job = Split();
        var kit = KitBuilder.Build(job with { Pattern = job.Pattern with { Finish_mm = 0 } }, Shop("oversize_mm = 0.1\nfinish_mm = 0.15\n"));
        Assert.Equal((0.1, 0.0), (kit.Inset!.Growth.Oversize_mm, kit.Inset.Growth.Finish_mm));
        var alone = KitBuilder.Build(job with { Pattern = job.Pattern with { Finish_mm = 0.2 } }, FoundryTables.Default);
        Assert.Equal(0.2, alone.Inset!.Growth.Skin_mm);
        Assert.Equal("given in the job; of cope, drag", Assert.Single(alone.Decisions, d => d.Key == "finish_mm").Rule.Replace("coupon-", "", StringComparison.Ordinal));
    }

    [Fact]
    public void Finish_is_a_length_of_the_job()
    {
        static Job Read(string keys) => JobFolder.Read($"title = \"Cover plate\"\nunit = \"in\"\nalloy = \"AlSi7Mg\"\nsand = \"oil-bonded\"\n[pattern]\n{keys}{JobFolder.Disc}");
        Assert.Null(Read("finish = \"auto\"\n").Pattern.Finish_mm);
        Assert.Equal(0, Read("finish = \"none\"\n").Pattern.Finish_mm);
        Assert.Equal(0.254, Read("finish = 0.01\n").Pattern.Finish_mm!.Value, 1e-12);
        Assert.Contains("finish", Assert.Throws<InputException>(() => Read("finish = \"2 mm\"\n")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_the_first_layer_spreads_the_edge_at_the_joint_is_cut_back()
    {
        const double wide = 0.3, high = 0.4;
        var kit = KitBuilder.Build(Split(), Shop("first_layer_flare_mm = 0.3\nfirst_layer_mm = 0.4\n"));
        foreach (var body in kit.Bodies)
        {
            Assert.True(kit.Inset!.Files[body.Name].IsTrimmed);
            var file = kit.InFile(body).AsPrinted;
            KitCheck.Valid(file, body.Name);
            // Between the wall and the slope, a triangle of (wide − high tan θ) by high along the rim of the foot, and the mitres at four corners.
            var size = body.AsPrinted.Bounds().Size;
            var (a, b, back) = (size.X - (2 * high * Tan2), size.Y - (2 * high * Tan2), wide);
            var frustum = high * ((size.X * size.Y) - (high * Tan2 * (size.X + size.Y)) + (4.0 / 3 * high * high * Tan2 * Tan2));
            var slope = high * ((a * b) - (back * (a + b)) + (4.0 / 3 * back * back));
            Assert.Equal(frustum - slope, body.AsPrinted.Volume() - file.Volume(), 0.02 * (frustum - slope));
        }
    }

    [Fact]
    public void Pieces_are_cut_from_the_smaller_half_and_their_seams_part_by_the_oversize()
    {
        var job = Of(Block(0, 0, 260, 60, 0, 12)).Bare(2);
        var kit = KitBuilder.Build(job, Shop("bed_mm = [180, 180]\noversize_mm = 0.1\nfinish_mm = 0.15\n"));
        var cut = Assert.Single(kit.Cut);
        Assert.All(cut.Pieces, p => KitCheck.Valid(kit.InFile(p).AsPrinted, p.Name));
        var (left, right) = (kit.InFile(cut.Pieces[0]).InMould.Bounds(), kit.InFile(cut.Pieces[1]).InMould.Bounds());
        Assert.Equal(kit.Bodies[0].InMould.Bounds().Low.X + ((Oversize + Finish) / Cos2), left.Low.X, 1e-3);
        var (wasLeft, wasRight) = (cut.Pieces[0].InMould.Bounds(), cut.Pieces[1].InMould.Bounds());
        Assert.Equal(2 * Oversize, right.Low.X - left.High.X - (wasRight.Low.X - wasLeft.High.X), 1e-3);
    }

    [Fact]
    public void What_is_too_narrow_to_be_printed_and_what_is_left_as_drawn_is_told()
    {
        // A rib that is 1.2 mm wide at its top, and wider below; a limit of 2 · 0.25 + 0.8.
        var job = Of(Block(-40, -25, 40, 25, 0, 8), Block(-20, -0.6, 20, 0.6, 8, 14)).Bare(2);
        var thin = Assert.Single(KitBuilder.Build(job, Shop("oversize_mm = 0.1\nfinish_mm = 0.15\nnozzle_mm = 0.8\n")).Findings, f => f.Code == "print-thin");
        // Half of the limit below the top.
        Assert.Equal(1.2 + (2 * 0.65 * Tan2), thin.Value!.Value, 0.01);
        Assert.Equal(1.3, thin.Limit!.Value, 1e-9);
        Assert.DoesNotContain(KitBuilder.Build(job, Shop("oversize_mm = 0.1\nfinish_mm = 0.15\nnozzle_mm = 0.4\n")).Findings, f => f.Code == "print-thin");

        var bore = new Feature("bore", null, [PlanPath.Polygon(new Vec2(-31, 0), new(31, 0), new(31, 8), new(-31, 8))], -8, 8, CutKind.Cored, "job.toml, line 5", new(TurnedAxis.X, default));
        var cored = Of(Block(-30, -20, 30, 20, -20, 20), bore).Bare(2);
        var kit = KitBuilder.Build(cored, Shop("oversize_mm = 0.1\n"));
        var told = Assert.Single(kit.Findings, f => f.Code == "as-drawn");
        Assert.All(kit.Cores.SelectMany(c => c.Box.Printed), b => Assert.Contains(b.Name, told.Message, StringComparison.Ordinal));
        Assert.All(kit.Cores.SelectMany(c => c.Box.Printed), b => Assert.Same(b.AsPrinted, kit.InFile(b).AsPrinted));
        // Sand is not printed: of the core nothing is said.
        Assert.DoesNotContain(kit.Cores[0].Body.Name, kit.Inset!.Files.Keys);
        Assert.DoesNotContain("core-1,", told.Message, StringComparison.Ordinal);
    }
}
