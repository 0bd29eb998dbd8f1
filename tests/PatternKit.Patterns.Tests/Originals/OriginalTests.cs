using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Originals;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Patterns.Tests.Originals;

/// <summary>Parts that are to be their own patterns: sizes, taper and volumes in closed form.</summary>
public sealed class OriginalTests
{
    private const string Part = "[[part]]\nmesh = \"part.obj\"\n";

    [Fact]
    public void Each_side_of_a_block_is_built_up_by_its_height_times_the_tangent()
    {
        var answer = Ask(ObjBodies.Block, Part + "[pattern]\ndraft = 2\n");
        Assert.Equal(4, answer.Faces.Length);
        Assert.Equal([200, 200, 300, 300], answer.Faces.Select(f => Math.Round(f.Area_mm2, 6)).Order());
        Assert.All(answer.Faces, f =>
        {
            Assert.Equal(10 * Math.Tan(2 * KitCheck.Degree), f.BuiltUp_mm, 1e-3);
            Assert.Equal(5 * Math.Tan(2 * KitCheck.Degree), f.MeanBuiltUp_mm, 1e-3);
            Assert.Equal(0, f.Draft, 1e-9);
            Assert.Equal(MouldHalf.Cope, f.Half);
            Assert.Equal(0, f.At_mm.Z, 1e-9);
        });
        Assert.Equal(4, answer.Findings.Count(f => f.Code == "no-draft"));
    }

    [Fact]
    public void A_wall_with_some_taper_lacks_the_difference_of_the_tangents_and_one_through_the_joint_drags_on_both_halves()
    {
        // Sides lean by 1° from the joint at half height; ends stand upright.
        var t = 10 * Math.Tan(KitCheck.Degree);
        var answer = Ask(ObjBodies.Bar(30, (0, 10), (t, 0), (20 - t, 0), (20, 10), (20 - t, 20), (t, 20)), Part + "[parting]\nat = 10\n[pattern]\ndraft = 3\n");
        var sides = answer.Faces.Where(f => f.Draft > 0.5 * KitCheck.Degree).ToArray();
        // Two sides of two faces each; they meet in an edge gentler than a crease.
        Assert.Equal(2, sides.Length);
        Assert.All(sides, f =>
        {
            Assert.Equal(10 * (Math.Tan(3 * KitCheck.Degree) - Math.Tan(KitCheck.Degree)), f.BuiltUp_mm, 1e-3);
            Assert.Equal(2 * 30 * 10 / Math.Cos(KitCheck.Degree), f.Area_mm2, 1e-6);
            Assert.Null(f.Half);
            Assert.Equal(10, f.At_mm.Z, 1e-6);
        });
        Assert.Equal(2, answer.Faces.Length - sides.Length);
    }

    [Fact]
    public void The_casting_is_wider_by_rapping_and_smaller_by_contraction()
    {
        var answer = Ask(ObjBodies.Block, Part + """
            [pattern]
            contraction = "2 %"
            rapping = 0.3
            [[measure]]
            name = "length"
            nominal = 30
            from = [0, 10, 5]
            to = [30, 10, 5]
            [[measure]]
            name = "from the middle"
            nominal = 15
            from = [15, 10, 5]
            to = [30, 10, 5]
            [[measure]]
            name = "height"
            nominal = 10
            from = [5, 5, 0]
            to = [5, 5, 10]
            [[measure]]
            name = "length as drawn, half a millimetre short of the part"
            nominal = 29.5
            from = [0, 10, 5]
            to = [29.5, 10, 5]
            """);
        Assert.Equal(new[] { 30.6, 15.3, 10, 30.6 }.Select(x => Math.Round(x / 1.02, 6)), answer.Measures.Select(m => Math.Round(m.AsCast_mm!.Value, 6)));
        Assert.Equal(30, answer.Measures[3].Pattern_mm!.Value, 1e-9);
        Assert.Equal(new[] { 30.6, 20.6, 10 }.Select(x => Math.Round(x / 1.02, 6)), answer.Overall.Select(m => Math.Round(m.AsCast_mm!.Value, 6)));
        // ISO 8062 as for any casting of the job.
        var kit = KitCheck.Build(Read(ObjBodies.Block, Part + "[[measure]]\nname = \"length\"\nnominal = 30\nfrom = [0, 10, 5]\nto = [30, 10, 5]\n"));
        Assert.Equal(kit.Measures[0].Tolerance_mm, answer.Measures[0].Tolerance_mm);
    }

    [Fact]
    public void A_small_tapered_part_will_do()
    {
        var answer = Ask(ObjBodies.Bar(30, (0, 0), (30, 0), (28, 10), (2, 10)), Part + "[pattern]\ndraft = 0.25\n");
        // Its ends are upright: 280 mm² each of a skin of some 2700, and 0.04 mm to build up.
        Assert.Equal(OriginalVerdict.WillDo, answer.Verdict);
        Assert.Empty(answer.Reasons);
        Assert.False(answer.HasStop);
    }

    [Fact]
    public void Much_skin_without_taper_makes_a_printed_pattern_the_better_way()
    {
        var answer = Ask(ObjBodies.Stack((0, 30, 20)), Part);
        Assert.Equal(OriginalVerdict.PatternIsBetter, answer.Verdict);
        // 4 × 40 × 30 of that and 2 × 40 × 40.
        Assert.Contains("60 % of the skin", Assert.Single(answer.Reasons), StringComparison.Ordinal);
        // By table: 1.5° for 30 mm, smooth, without what layer lines ask for.
        Assert.Equal(30 * Math.Tan(1.5 * KitCheck.Degree), answer.Faces[0].BuiltUp_mm, 1e-3);
    }

    [Fact]
    public void A_casting_that_comes_out_of_tolerance_makes_a_printed_pattern_the_better_way()
    {
        var answer = Ask(ObjBodies.Bar(300, (0, 0), (30, 0), (28, 10), (2, 10)), Part + "[pattern]\ndraft = 0.25\ncontraction = \"3 %\"\nrapping = 0\n");
        Assert.Equal(OriginalVerdict.PatternIsBetter, answer.Verdict);
        // 300 / 1.03 = 291.26.
        Assert.Contains("8.74 mm too small over 300 mm", Assert.Single(answer.Reasons), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_caught_cannot_be_drawn()
    {
        var answer = Ask(ObjBodies.Stack((0, 5, 10), (5, 15, 4), (15, 20, 10)), Part + "[parting]\nat = 10\n");
        Assert.Equal(OriginalVerdict.CannotBeDrawn, answer.Verdict);
        Assert.True(answer.HasStop);
        Assert.Contains("3.36 cm³ of sand is caught", answer.Reasons[0], StringComparison.Ordinal);
        // The flanges' sides drag; the stem's are caught and drag on nothing.
        Assert.All(answer.Faces, f => Assert.Equal(100, f.Area_mm2, 1e-6));
        Assert.Equal(8, answer.Faces.Length);
    }

    [Fact]
    public void An_edge_that_climbs_off_the_joint_asks_for_a_follow_board()
    {
        const string rest = Part + "[parting]\nat = 0\n";
        var stepped = Ask(ObjBodies.Bar(30, (0, 0), (20, 0), (20, 6), (40, 6), (40, 16), (0, 16)), rest);
        var found = Assert.Single(stepped.Findings, f => f.Code == "follow-board");
        Assert.Equal(6, found.Value!.Value, 1e-9);
        Assert.InRange(found.At_mm!.Value.X, 20, 40);
        Assert.Contains(stepped.Work, w => w.Contains("follow board", StringComparison.Ordinal));
        Assert.DoesNotContain(Ask(ObjBodies.Block, rest).Findings, f => f.Code == "follow-board");
    }

    [Fact]
    public void Slender_sand_and_thin_metal_are_told()
    {
        // A channel with walls 2 mm thick, open upward, 6 mm wide and 20 deep.
        var answer = Ask(ObjBodies.Bar(40, (0, 0), (10, 0), (10, 22), (8, 22), (8, 2), (2, 2), (2, 22), (0, 22)), Part + "[parting]\nat = 0\n");
        Assert.Contains(answer.Findings, f => f.Code == "sand-tongue" && Math.Abs(f.Value!.Value - 20) < 0.2);
        var thin = answer.Findings.Where(f => f.Code == "thin-section").ToArray();
        Assert.All(thin, f => Assert.Equal(2, f.Value!.Value, 1e-6));
        Assert.NotEmpty(thin);
    }

    [Theory]
    [InlineData("original = true\n" + JobFolder.Disc, "whose [[part]] is a mesh")]
    [InlineData("original = true\n" + Part + "[pattern]\ndowels = 6\n", "\"dowels\"")]
    [InlineData("original = true\n" + Part + "[pattern]\nskin = \"printed\"\n", "\"skin\"")]
    [InlineData("original = 1\n" + Part, "original")]
    public void What_does_not_go_with_an_original_is_refused(string rest, string told) =>
        Assert.Contains(told, Assert.Throws<InputException>(() => Read(ObjBodies.Block, rest)).Message, StringComparison.Ordinal);

    [Fact]
    public void There_is_no_pattern_to_make_of_an_original() =>
        Assert.Contains("the part itself is the pattern", Assert.Throws<InputException>(() => KitCheck.Build(Read(ObjBodies.Block, Part) with { Original = true })).Message, StringComparison.Ordinal);

    private static OriginalAnswer Ask(string obj, string rest) => OriginalCheck.Of(Read(obj, "original = true\n" + rest), FoundryTables.Default);

    private static Job Read(string obj, string rest) => JobFolder.Read(obj, rest);
}
