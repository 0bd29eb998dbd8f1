using CsCheck;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Tests.Casting;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Parting;

/// <summary>Heights of both terrains before draft, reasoned from which sand can reach a place.</summary>
public class JointPlanTests
{
    [Fact]
    public void Sand_stands_in_an_enclosed_recess()
    {
        var plan = Plan(0, Round(0, 0, 90, 0, 20), Round(0, 0, 74, 0, 12, CutKind.Drawn));
        var recess = At(plan, new(0, 0));
        Assert.Equal((20.0, 12.0, true, false), (recess.Upper, recess.Lower, recess.IsMetal, recess.IsOpen));
        Assert.Equal(0, plan.Recess_mm3);
        Assert.Empty(plan.Findings);
    }

    [Fact]
    public void A_recess_open_to_the_outside_is_filled_to_the_joint_and_told()
    {
        var plan = Plan(0, Block(0, 0, 80, 20, 0, 14), Block(20, 0, 60, 20, 0, 8, CutKind.Drawn));
        Assert.Equal(40 * 20 * 8, plan.Recess_mm3, 1e-3);
        var arch = At(plan, new(40, 10));
        Assert.Equal((14.0, 0.0, true), (arch.Upper, arch.Lower, arch.IsOpen));
        var finding = Assert.Single(plan.Findings);
        Assert.Equal("undercut", finding.Code);
        Assert.Equal(4, finding.At_mm!.Value.Z, 1e-5);
    }

    [Fact]
    public void A_channel_across_a_rim_opens_the_recess_behind_it()
    {
        // A dish, rim 0 to 20, floor 12 to 20, and a channel through the rim as deep as the dish.
        Feature[] dish = [Block(0, 0, 60, 60, 0, 20), Block(10, 10, 50, 50, 0, 12, CutKind.Drawn), Block(50, 25, 60, 35, 0, 12, CutKind.Drawn)];
        Assert.Equal(((40 * 40) + (10 * 10)) * 12, Plan(0, dish).Recess_mm3, 1e-3);
    }

    [Fact]
    public void The_sand_in_a_through_hole_parts_where_all_its_walls_are()
    {
        // A hole through the floor of a dish that is open below: the floor begins at 12, above the joint at 0.
        var plan = Plan(0, Round(0, 0, 90, 0, 20), Round(0, 0, 74, 0, 12, CutKind.Drawn), Round(0, 0, 10, 0, 20, CutKind.Drawn));
        var hole = At(plan, new(0, 0));
        Assert.Equal((12.0, 12.0, false), (hole.Upper, hole.Lower, hole.IsMetal));
        Assert.Equal(0, plan.Recess_mm3);
        // In a flange it parts at the joint itself.
        var flange = At(Plan(4, Round(0, 0, 90, 0, 20), Round(0, 0, 10, 0, 20, CutKind.Drawn)), new(0, 0));
        Assert.Equal((4.0, 4.0), (flange.Upper, flange.Lower));
    }

    [Fact]
    public void A_hole_between_walls_at_different_heights_makes_them_meet()
    {
        // A ring of full height around a hole that has a high ledge on one side and a low one on the other.
        Feature[] part =
        [
            Block(0, 0, 60, 60, 0, 20), Block(10, 10, 50, 50, 0, 20, CutKind.Drawn), Block(10, 10, 20, 50, 14, 20), Block(40, 10, 50, 50, 0, 6),
        ];
        var plan = Plan(10, part);
        // Both ledges are brought to 10.
        Assert.Equal(10 * 40 * (4 + 4), plan.Recess_mm3, 1e-3);
        Assert.Equal(10, At(plan, new(30, 30)).Upper, 1e-5);
        Assert.Equal(10, At(plan, new(15, 30)).Lower, 1e-5);
        Assert.Equal(10, At(plan, new(45, 30)).Upper, 1e-5);
    }

    [Fact]
    public void Ledges_that_touch_one_above_the_other_are_made_to_meet()
    {
        Feature[] part =
        [
            Block(0, 0, 60, 60, 0, 20), Block(10, 10, 50, 50, 0, 20, CutKind.Drawn), Block(10, 10, 30, 50, 14, 20), Block(30, 10, 50, 50, 0, 6),
        ];
        Assert.Equal(20 * 40 * (4 + 4), Plan(10, part).Recess_mm3, 1e-3);
        // With the joint above both, the lower one alone is raised.
        Assert.Equal(20 * 40 * 8, Plan(18, part).Recess_mm3, 1e-3);
    }

    [Fact]
    public void On_random_parts_both_sands_reach_everywhere_and_hold_the_casting() =>
        Gen.Select(PartingChooserTests.Blocks(), Gen.Int[0, 8]).Sample(
            (blocks, at) =>
            {
                var job = Of([.. blocks]);
                var part = PartBody.From(job);
                var casting = CastingBodyTests.Cast(CastingBodyTests.With(), [.. blocks]);
                var height = part.Box.Low.Z + (part.Box.Size.Z * at / 8);
                var choice = PartingChooser.Choose(job with { Parting = new(height) }, part, casting, FoundryTables.Default.Loose);
                var plan = JointPlan.From(casting, choice, FoundryTables.Default.Loose);
                var joint = plan.Terrain.Base;
                var cells = plan.Terrain.Cells;
                var neighbours = CellNeighbours.Among([.. cells.Select(c => c.Region)]);
                for (var i = 0; i < cells.Length; i++)
                {
                    Assert.True(cells[i].IsMetal ? cells[i].Lower < cells[i].Upper : cells[i].Lower == cells[i].Upper);
                    // Across a border, sand from above and sand from below must not face each other.
                    foreach (var n in neighbours.Of[i]) Assert.True(cells[i].Lower <= cells[n].Upper && cells[n].Lower <= cells[i].Upper);
                    if (neighbours.ReachesOutside[i]) Assert.True(cells[i].Lower <= joint && joint <= cells[i].Upper);
                }

                foreach (var c in casting.Map.Cells.Where(c => !c.Solid.IsEmpty))
                {
                    var p = c.Region.Geometry.InteriorPoint;
                    var cell = At(plan, new(p.X, p.Y));
                    Assert.True(cell.Lower <= c.Low && c.High <= cell.Upper);
                }
            },
            iter: 100);

    private static JointPlan Plan(double at, params Feature[] features)
    {
        var job = Of(features) with { Parting = new(at) };
        var casting = CastingBodyTests.Cast(CastingBodyTests.With(), features);
        return JointPlan.From(casting, PartingChooser.Choose(job, PartBody.From(job), casting, FoundryTables.Default.Loose), FoundryTables.Default.Loose);
    }

    private static TerrainCell At(JointPlan plan, Vec2 p) => plan.Terrain.Cells.Single(c => c.Region.Contains(p));
}
