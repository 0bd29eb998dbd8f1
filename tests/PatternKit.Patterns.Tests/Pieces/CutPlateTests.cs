using PatternKit.Foundry;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Pieces;

/// <summary>Plates that the printer's bed does not take whole.</summary>
public class CutPlateTests
{
    [Fact]
    public void Both_halves_of_a_match_plate_come_apart_clear_of_pins_and_dowels_their_seams_apart()
    {
        var job = Jobs.Of(Jobs.Block(0, 0, 150, 60, -9, 12)) with
        {
            Parting = new(0),
            Plate = new(PlateKind.Match, (300, 170), Pins: [new(new(-138, 0), 12), new(new(138, 60), 10)]),
        };
        var tables = CutCheck.Bed(180, 180);
        var kit = KitBuilder.Build(job, tables);
        Assert.Equal(["plate-cope", "plate-drag"], kit.Cut.Select(c => c.Whole.Name));
        Assert.Equal(2, kit.Plate!.Dowels.Length);
        var land = tables.BedCuts.Dovetail.Land_mm;
        foreach (var cut in kit.Cut)
        {
            CutCheck.Sound(kit, cut, 180, 180);
            Assert.Equal(2, cut.Pieces.Length);
            var holes = PlanRegion.Union([.. kit.Plate.Pins.Select(p => Circle(p.At_mm, p.Hole_mm)), .. kit.Plate.Dowels.Select(d => Circle(d.At_mm, d.Hole_mm))]);
            Assert.All(cut.Plan.Seams, s => Assert.True(holes.Offset(land - 0.01, 0.01).Inside([s]).Sum(l => l.Length) == 0, "a seam comes too near a hole"));
        }

        // No seam of one half lies over one of the other, nor within the land of its dovetails.
        Assert.True(kit.Cut[0].Plan.Taken.Intersection(PlanRegion.Union(kit.Cut[1].Plan.Cuts.Select(c => PlanRegion.Rectangle(new(c.At - 0.1, c.Low), new(c.At + 0.1, c.High))))).IsEmpty);
        Assert.Equal([.. kit.Cut.SelectMany(c => c.Pieces).Select(p => p.Name), "sprue"], kit.AllBodies.Select(b => b.Name));
        Assert.DoesNotContain(kit.Findings, f => f.Code == "open-mesh");
    }

    [Fact]
    public void A_plate_full_of_pins_is_left_whole_and_told()
    {
        // Every line within the bed's reach of both ends meets a pin.
        var pins = Enumerable.Range(0, 13).Select(i => new FlaskPin(new((i * 14) - 84, i % 2 == 0 ? 70 : -70), 10)).ToArray();
        var job = Jobs.Of(Jobs.Block(0, 0, 60, 40, 0, 12)).Bare(2) with { Plate = new(PlateKind.Match, (300, 170), Pins: [.. pins]) };
        var kit = KitBuilder.Build(job, CutCheck.Bed(180, 180));
        Assert.Empty(kit.Cut);
        Assert.Contains(kit.Findings, f => f.Code == "over-bed" && f.Severity == Severity.Warn);
    }

    private static PlanRegion Circle(Geometry.Numerics.Vec2 at, double diameter) => PlanRegion.EvenOdd([PlanPath.Circle(at, diameter)], 0.01);
}
