namespace PatternKit.Foundry.Tests;

/// <summary>Set problems with printed answers that no other file has: flow down a sprue, pressure on a joint that stands, metal to melt.</summary>
public class WorkedExampleTests
{
    // A sprue of 10 mm base diameter and 250 mm height passes 173 944 mm3/s. (byjus.com, question of a sprue of 10 mm base diameter)
    [Fact]
    public void A_sprue_of_ten_by_two_hundred_and_fifty_passes_a_hundred_and_seventy_four_cubic_centimetres_a_second() =>
        Assert.Equal(173944, Flow.Speed_mm_s(250) * Flow.Circle_mm2(10), 20.0);

    // Groover, set problem: sprue 20 cm long, 2.5 cm2 at its base, mould 1560 cm3: 198.1 cm/s, 495 cm3/s, 3.15 s. (problem: askfilo.com; the answer from memory)
    [Fact]
    public void A_mould_of_1560_cubic_centimetres_fills_in_three_seconds()
    {
        var speed_cm_s = Flow.Speed_mm_s(200) / 10;
        Assert.Equal(198.1, speed_cm_s, 0.05);
        Assert.Equal(495, 2.5 * speed_cm_s, 0.5);
        Assert.Equal(3.15, 1560 / (2.5 * speed_cm_s), 0.005);
    }

    // A mould stood on end: 200 x 150 mm of bronze on edge under 100 mm of sprue press some 400 N sideways: the mean head over the joint's height.
    [Fact]
    public void A_bronze_plate_on_edge_presses_four_hundred_newton_sideways() =>
        Assert.Equal(400, CopeBalance.PressureLift_N(200.0 * 150 * (100 + (150 / 2.0)), 7700), 5.0);

    // Common practice: 1 - 5 % lost in melting aluminium and iron, 3 - 8 % brass; 5 - 10 % left in the ladle. The figure for all metals lies in both ranges.
    [Fact]
    public void Melting_loss_and_heel_lie_in_the_ranges_of_practice()
    {
        var tables = FoundryTables.Default.Gating;
        Assert.InRange(tables.MeltLoss_percent.Value, 3, 5);
        Assert.InRange(tables.Heel_percent.Value, 5, 10);
        var metal = PouredMetal.Of(2, 0.5e9 / FoundryTables.Default.Alloy("AlSi7Mg").Density_kg_m3.Value, FoundryTables.Default.Alloy("AlSi7Mg"), tables);
        Assert.Equal(2.5 * (1 + ((tables.MeltLoss_percent.Value + tables.Heel_percent.Value) / 100)), metal.Melt_kg, 1e-12);
        Assert.Equal(0.8, metal.Yield, 1e-12);
    }
}
