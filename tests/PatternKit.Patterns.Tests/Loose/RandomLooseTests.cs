using CsCheck;
using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Loose;

/// <summary>Loose pieces of any size on walls that face any way: all bodies are sound, and pattern, piece and gap are together what the bridge says.</summary>
public sealed class RandomLooseTests
{
    private static readonly Gen<Job> Any =
        from turn in Gen.Double[-180, 180]
        from draft in Gen.Double[0.5, 4]
        from height in Gen.Double[35, 80]
        from wide in Gen.Double[30, 70]
        from size in Gen.Double[6, 26]
        from place in Gen.Double[0.3, 0.75]
        from along in Gen.Double[-0.3, 0.3]
        from far in Gen.Double[4, 16]
        from shape in Gen.Int[0, 2]
        from down in Gen.Bool
        from holds in Gen.Int[0, 2]
        from contraction in Gen.Int[0, 20]
        from rapping in Gen.Int[0, 5]
        from held in Gen.Int[0, 2]
        select Made(turn, draft, height, wide, size, place, along, far, shape, down, (SizeHolds)holds, contraction / 1000.0, rapping / 10.0, held);

    private static Job Made(double turn, double draft, double height, double wide, double size, double place, double along, double far, int shape, bool down, SizeHolds holds, double contraction, double rapping, int held)
    {
        var way = new Vec2(Math.Cos(turn * Math.PI / 180), Math.Sin(turn * Math.PI / 180));
        var block = Block(-wide / 2, -20, wide / 2, 20, down ? -height : 0, down ? 0 : height);
        var turned = block with { Loops = [.. block.Loops.Select(l => l.Transformed(1, (turn - 90) * Math.PI / 180, default))] };
        var z = (down ? -1 : 1) * place * height;
        var at = (20 * way) - (along * wide * way.Left);
        PlanPath outline = shape switch
        {
            0 => PlanPath.Circle(default, size),
            1 => PlanPath.Polygon(new Vec2(-size, -size / 3), new(size, -size / 3), new(size, size / 3), new(-size, size / 3)),
            _ => PlanPath.Polygon(new Vec2(-size / 2, -size / 2), new(size / 2, -size / 2), new(0, size / 2)),
        };
        var job = Of(turned).Bare(draft, joint_mm: 0, holds: holds);
        return job with
        {
            Pattern = job.Pattern with { Contraction = contraction, Rapping_mm = rapping },
            Loose = [new("boss", [outline], way, new(at.X, at.Y, z), far, "job.toml, line 5") { Held = held switch { 0 => LooseHold.Dovetail, 1 => LooseHold.Pin, _ => null } }],
        };
    }

    [Fact]
    public void Bodies_are_sound_and_volumes_close()
    {
        var made = 0;
        Any.Sample(
            job =>
            {
                Kit kit;
                try
                {
                    kit = KitCheck.Build(job);
                }
                catch (InputException e) when (e.Message.Contains("boss", StringComparison.Ordinal))
                {
                    // It does not fit onto its wall.
                    return;
                }

                Interlocked.Increment(ref made);
                var piece = Assert.Single(kit.Loose);
                KitCheck.Closed(kit);
                KitCheck.Valid(piece.Body.AsPrinted, "the piece");
                KitCheck.Valid(piece.Metal.AsPrinted, "its metal");
                Assert.True(piece.Body.LeastDraft >= piece.Draft.Value - KitCheck.DraftSlack, $"{piece.Body.LeastDraft} of {piece.Draft.Value}");
                var bodies = kit.Bodies.Sum(b => b.AsPrinted.Volume()) + piece.Body.AsPrinted.Volume();
                Assert.Equal(1, bodies / kit.Bridge.Pattern_mm3, 1e-5);
            },
            iter: 24, print: j => $"{j.Pattern} {j.Features[0]} {j.Loose[0]}");
        Assert.True(made > 10, $"only {made} were made");
    }
}
