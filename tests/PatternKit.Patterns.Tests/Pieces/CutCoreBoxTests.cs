using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Cores;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Pieces;

/// <summary>Core boxes that the printer's bed does not take whole.</summary>
public class CutCoreBoxTests
{
    // A pump barrel 150 mm long with a bore of 30 mm: its box is longer than the bed of 120 mm by both prints.
    [Fact]
    public void The_box_of_a_long_core_comes_apart_in_pieces_that_hold_the_core()
    {
        Vec2[] bore = [new(-80, 0), new(80, 0), new(80, 15), new(-80, 15)];
        var job = Of(Block(-75, -30, 75, 30, -30, 30), Turned("bore", bore)).Bare(2);
        var kit = KitBuilder.Build(job, CutCheck.Bed(120, 120));
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.Equal(["core-1-box-a", "core-1-box-b"], core.Box.Cut.Select(c => c.Whole.Name));
        Assert.Equal(["core-1", "core-1-box-a-left", "core-1-box-a-right", "core-1-box-b-left", "core-1-box-b-right"], core.Bodies.Select(b => b.Name));
        foreach (var cut in core.Box.Cut)
        {
            foreach (var piece in cut.Pieces)
            {
                KitCheck.Valid(piece.AsPrinted, piece.Name);
                KitCheck.InSinglePrecision(piece);
                Assert.Equal(0.0, piece.AsPrinted.Bounds().Low.Z);
                Assert.True(piece.AsPrinted.Bounds().Size is { X: <= 120, Y: <= 120 }, piece.Name);
                Assert.Equal(2 * KitCheck.Degree, piece.LeastDraft, 0.05 * KitCheck.Degree);
            }

            // What the gap takes is its width times the section of the block, less the half circle of the cavity with its drafted lip (a half of the core's section and the
            // triangles beside it are in the whole's own section), and the flanks of dovetails, which lie within it.
            var line = Assert.Single(cut.Plan.Cuts);
            var (lost, depth) = (cut.Whole.AsPrinted.Volume() - cut.Pieces.Sum(p => p.AsPrinted.Volume()), core.Box.Depth_mm);
            var width = core.Box.Plan.Geometry.EnvelopeInternal.Height;
            var straight = 0.2 * ((depth * width) - (Math.PI * 15 * 15 / 2));
            var flanks = 0.2 * line.Tails.Sum(t => (2 * t.Depth * Math.Sqrt(1 + (t.Flare * t.Flare))) + t.Width - t.Neck);
            Assert.InRange(lost, straight + (flanks * core.Box.Wall_mm) - (0.02 * straight), straight + (flanks * depth) + (0.02 * straight));
            Assert.All(core.Box.Dowels, d => Assert.True(Math.Abs(d.At_mm.X - line.At) > (d.Hole_mm / 2) + 3));
        }

        Assert.Equal(2, kit.Findings.Count(f => f.Code == "cut-to-bed" && f.Message.Contains("core-1-box", StringComparison.Ordinal)));
        Assert.DoesNotContain(kit.Findings, f => f.Code is "over-bed" or "open-mesh");
    }

    private static Feature Turned(string name, Vec2[] profile) =>
        new(name, null, [PlanPath.Polygon(profile)], -15, 15, CutKind.Cored, "job.toml, line 12", new(TurnedAxis.X, default));
}
