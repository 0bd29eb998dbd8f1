using CsCheck;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Tests.Casting;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Parting;

/// <summary>Heights that a pattern-maker would choose, and exact costs against brute force.</summary>
public class PartingChooserTests
{
    [Fact]
    public void A_plate_lies_flat_with_the_drag_empty()
    {
        var choice = Choose(Block(0, 0, 100, 60, 3, 15));
        Assert.Equal(3, choice.Height_mm, 1e-5);
        Assert.Equal((3.0, 15.0), (Math.Round(choice.Low_mm, 5), Math.Round(choice.High_mm, 5)));
        Assert.Equal(0, choice.Added_mm3);
        Assert.Contains("flat back at the bottom", choice.Reason, StringComparison.Ordinal);
    }

    // The lattice step at pattern size makes z 8.0000025 of 8: nothing of that is for people.
    [Fact]
    public void Heights_are_told_as_drawn_whatever_the_contraction()
    {
        foreach (var percent in new[] { 0.7, 1.3, 1.56, 2.1 })
        {
            var choice = Choose(CastingBodyTests.With(percent / 100), null, Round(0, 0, 90, 0, 8), Round(0, 0, 60, 8, 20.3));
            Assert.Equal((0.0, 0.0, 8.0, 20.3), (choice.Height_mm, choice.Alternatives[0].Height_mm, choice.Alternatives[1].Height_mm, choice.Alternatives[2].Height_mm));
            Assert.NotEqual(0, choice.Alternatives[2].Height_mm * (1 + (percent / 100)) - choice.Map.Box.High.Z);
        }
    }

    [Fact]
    public void A_bracket_with_boss_rib_and_holes_has_a_flat_back() =>
        Assert.Equal(0, Choose(
            Block(0, 0, 100, 60, 0, 10), Round(70, 30, 24, 0, 25), Block(10, 27, 70, 33, 0, 18),
            Round(70, 30, 10, 0, 25, CutKind.Drawn), Round(20, 30, 12, 0, 25, CutKind.Drawn)).Height_mm);

    [Fact]
    public void A_gland_flange_has_a_flat_back() =>
        Assert.Equal(0, Choose(
            Round(0, 0, 100, 0, 12), Round(0, 0, 42, 0, 30), Round(0, 0, 24, 0, 30, CutKind.Drawn), Round(0, 0, 30, 22, 30, CutKind.Drawn)).Height_mm);

    [Fact]
    public void Pegs_below_a_plate_put_the_flat_back_at_the_top()
    {
        var choice = Choose(Block(0, 0, 100, 60, 0, 10), Round(30, 30, 12, -20, 0), Round(70, 30, 12, -20, 0));
        Assert.Equal(10, choice.Height_mm, 1e-5);
        Assert.Contains("cope left empty", choice.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_strainer_cover_with_its_recess_below_parts_at_the_rim()
    {
        var choice = Choose(
            Round(0, 0, 90, 0, 20), Round(0, 0, 74, 0, 12, CutKind.Drawn), Round(0, 0, 20, 12, 26),
            Block(14, 21, -14, 26, 12, 20, CutKind.Drawn), Block(-14, -26, 14, -21, 12, 20, CutKind.Drawn));
        Assert.Equal(0, choice.Height_mm);
        Assert.Equal(0, choice.Added_mm3);
    }

    [Fact]
    public void Features_on_both_sides_put_the_joint_between_them()
    {
        var choice = Choose(Block(0, 0, 100, 60, 0, 10), Round(30, 30, 24, 0, 25), Round(70, 30, 20, -15, 0));
        Assert.Equal(0, choice.Added_mm3);
        // The lower face has lost the smaller boss, the upper one the larger.
        Assert.Equal(0, choice.Height_mm, 1e-5);
        Assert.Equal((0.0, 10.0), (Math.Round(choice.Low_mm, 5), Math.Round(choice.High_mm, 5)));
        Assert.Contains("largest planar face", choice.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_handwheel_parts_at_its_plane_of_symmetry()
    {
        var wheel = new[]
        {
            Round(0, 0, 160, -8, 8), Round(0, 0, 130, -8, 8, CutKind.Drawn), Block(-70, -5, 70, 5, -4, 4), Block(-5, -70, 5, 70, -4, 4),
            Round(0, 0, 36, -16, 16), Round(0, 0, 14, -16, 16, CutKind.Drawn),
        };
        var choice = Choose(wheel);
        Assert.Equal(0, choice.Height_mm, 1e-5);
        Assert.Contains("symmetry", choice.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_heights_that_add_nothing_the_one_with_the_least_sand_inside_is_taken()
    {
        // Rim, spoke and a hub that is longer above: the rim's lower face at -8 is larger and adds nothing either, but
        // sand would stand up to the spoke.
        var choice = Choose(Round(0, 0, 160, -8, 8), Round(0, 0, 130, -8, 8, CutKind.Drawn), Block(-70, -5, 70, 5, -4, 4), Round(0, 0, 36, -16, 20));
        Assert.Equal(-4, choice.Height_mm, 1e-5);
        Assert.Equal((-8.0, 8.0), (Math.Round(choice.Low_mm, 5), Math.Round(choice.High_mm, 5)));
        Assert.Equal(0, choice.Alternatives.First(a => Math.Abs(a.Height_mm + 8) < 1e-5).Added_mm3, 1e-6);
    }

    [Fact]
    public void A_plate_with_hundreds_of_features_parts_in_its_plane()
    {
        var features = new List<Feature> { Block(0, 0, 400, 200, 0, 10) };
        for (var i = 0; i < 200; i++)
            features.Add(Round(10 + (20 * (i % 20)), 10 + (20 * (i / 20)), 8 + (i % 5), i % 2 == 0 ? 0 : -i % 7, 12 + (i % 11), i % 3 == 0 ? CutKind.Drawn : CutKind.None));
        Assert.InRange(Choose([.. features]).Height_mm, 0, 10);
    }

    [Fact]
    public void An_arch_is_open_to_the_outside_and_costs_its_filling()
    {
        // A beam on two feet: with the joint at the ground the arch, 40 x 20 and 8 high, would have to be filled.
        Feature[] beam = [Block(0, 0, 80, 20, 0, 14), Block(20, 0, 60, 20, 0, 8, CutKind.Drawn)];
        var choice = Choose(beam);
        Assert.Equal(14, choice.Height_mm, 1e-5);
        Assert.Equal(0, choice.Added_mm3);
        var ground = choice.Alternatives.First(a => a.Height_mm == 0);
        Assert.Equal(40 * 20 * 8, ground.Added_mm3, 1e-3);
    }

    [Fact]
    public void The_height_given_is_job_height_and_is_taken_to_pattern_size()
    {
        var choice = Choose(CastingBodyTests.With(contraction: 0.013), 4, Block(0, 0, 100, 60, 0, 12));
        Assert.Equal(4 * 1.013, choice.PatternHeight_mm, 1e-5);
        Assert.Equal(4, choice.Height_mm, 1e-5);
        Assert.Contains("given in the job", choice.Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-0.1)]
    [InlineData(12.1)]
    [InlineData(double.NaN)]
    public void A_height_outside_the_part_is_refused(double z)
    {
        var e = Assert.Throws<InputException>(() => Choose(CastingBodyTests.With(), z, Block(0, 0, 100, 60, 0, 12)));
        Assert.Contains("from 0 to 12 mm", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Sand_trapped_in_a_column_is_filled_and_told()
    {
        var choice = Choose(Block(0, 0, 50, 50, 0, 5), Block(0, 0, 10, 50, 0, 20), Block(0, 0, 50, 50, 15, 20));
        Assert.Equal(40 * 50 * 10, choice.Trapped_mm3, 1e-3);
        var finding = Assert.Single(choice.Findings);
        Assert.Equal(("undercut", Severity.Warn), (finding.Code, finding.Severity));
        Assert.Equal(20000, finding.Value!.Value, 1e-3);
        Assert.InRange(finding.At_mm!.Value.X, 10, 50);
        Assert.Equal(10, finding.At_mm!.Value.Z, 1e-5);
    }

    [Fact]
    public void No_height_adds_less_metal_than_the_one_chosen() =>
        Blocks().Sample(
            blocks =>
            {
                var job = Of([.. blocks]);
                var part = PartBody.From(job);
                var casting = CastingBodyTests.Cast(CastingBodyTests.With(), [.. blocks]);
                var choice = PartingChooser.Choose(job, part, casting, FoundryTables.Default.Loose);
                var joint = new SandJoint(choice.Map, casting.Lattice.Step);
                var box = choice.Map.Box;
                for (var i = 0; i <= 1000; i++)
                    Assert.True(joint.At(box.Low.Z + (box.Size.Z * i / 1000)).Added_mm3 >= choice.Added_mm3 - 1e-6);
                // The plan of the joint adds what the choice promised, to a body that holds the casting.
                var plan = JointPlan.From(casting, choice, FoundryTables.Default.Loose);
                Assert.Equal(choice.Added_mm3, plan.Recess_mm3, 1e-6);
                Assert.Equal(casting.Map.Volume + choice.Trapped_mm3 + plan.Recess_mm3, plan.Terrain.Volume, 1e-6);
            },
            iter: 40);

    internal static PartingChoice Choose(params Feature[] features) => Choose(CastingBodyTests.With(), null, features);

    private static PartingChoice Choose(Patterns.Casting.Allowances allowances, double? at, params Feature[] features)
    {
        var job = Of(features) with { Parting = new(at) };
        return PartingChooser.Choose(job, PartBody.From(job), CastingBodyTests.Cast(allowances, features), FoundryTables.Default.Loose);
    }

    internal static Gen<List<Feature>> Blocks() =>
        Gen.Select(Gen.Int[0, 9].Array[4], Gen.Int[-6, 6], Gen.Int[1, 6], Gen.Int[0, 3]).Select(t =>
            Block(t.Item1[0], t.Item1[1], t.Item1[0] + 1 + t.Item1[2], t.Item1[1] + 1 + t.Item1[3], t.Item2, t.Item2 + t.Item3)).List[1, 8];
}
