namespace PatternKit.Foundry.Tests;

/// <summary>Set problems with printed answers that no other file has: flow down a sprue, a ladle, feeders by time, metal to melt; and wrong answers that must not come out.</summary>
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

    // Ghosh and Mallik, Manufacturing Science, p. 55: ladle 1 m across, nozzle 75 mm, 1.2 m of aluminium of 2700 kg/m3, discharge 0.96: empty in 91.60 s, 55.56 kg/s at first,
    // half of that on the average. (FOSSEE Python textbook companions, ch2_2)
    [Fact]
    public void A_ladle_runs_empty_in_a_minute_and_a_half()
    {
        var nozzle_mm2 = Flow.Circle_mm2(75);
        Assert.Equal(55.56, 2700e-9 * nozzle_mm2 * 0.96 * Flow.Speed_mm_s(1200), 0.01);
        var time_s = Flow.Circle_mm2(1000) * 1200 / (nozzle_mm2 * 0.96 * Flow.Speed_mm_s(EffectiveHead.Exact(1200, 1200, 1200)));
        Assert.Equal(91.60, time_s, 0.01);
        Assert.Equal(27.78, Flow.Circle_mm2(1000) * 1200 * 2700e-9 / time_s, 0.005);
        Assert.Equal(91.60, new FillClock(nozzle_mm2, 0.96, 1200).Time_s([new(0, 1200, Flow.Circle_mm2(1000))]), 0.01);
    }

    // Groover, example: a steel plate of 7.5 x 12.5 x 2 cm freezes in 1.6 min: 3.26 min/cm2; a feeder D = H for 2.0 min has 4.7 cm. (scribd.com/document/514612776, Riser design, typical problem)
    // GATE 2018: 80 x 120 x 20 mm in 2 min, feeder D = H for 3 min: 51.87 mm. (gate-exam.in, Mechanical GATE 2018, question 160)
    [Theory]
    [InlineData(75, 125, 20, 1.6, 2.0, 47.0, 0.05)]
    [InlineData(80, 120, 20, 2, 3, 51.872, 0.002)]
    public void A_feeder_that_outlasts_its_plate_by_a_given_time(double a, double b, double c, double plate_min, double feeder_min, double diameter_mm, double within)
    {
        var constant = plate_min / Math.Pow(Modulus.Block(a, b, c), 2);
        var modulus = Math.Sqrt(feeder_min / constant);
        // D = H: a sixth of the diameter.
        Assert.Equal(diameter_mm, modulus * 6, within);
        Assert.Equal(feeder_min, MouldConstant.Time_s(constant, Modulus.Cylinder(diameter_mm, diameter_mm)), 0.01);
    }

    // Practice test of an examination: bars of 0.5 m with equal sections, one three times as wide as thick, one round of 0.3 m: freezing times as 0.6577 (printed 0.6588).
    // (selfstudys.com, Production engineering, test 1)
    [Fact]
    public void A_flat_bar_freezes_before_a_round_one_of_its_section()
    {
        var thick = Math.Sqrt(Math.PI / 4 * 0.3 * 0.3 / 3);
        Assert.Equal(0.1535, thick, 1e-4);
        Assert.Equal(0.6577, Math.Pow(Modulus.Block(3 * thick, thick, 0.5) / Modulus.Cylinder(0.3, 0.5), 2), 5e-4);
    }

    // Shell of steel in sand, X(mm) = 0.885 root t(s): a wall freezes when both shells meet, t = (X / 0.885)2, so that B is 1.277 s/mm2. (scribd.com/document/399695599, Steel casting solidification)
    // The program's own constant of steel by handbook values, 1.02 to 1.49 s/mm2 over the sands, lies about it.
    [Fact]
    public void Steel_freezes_as_its_shell_was_measured_to_grow()
    {
        const double Measured = 1 / (0.885 * 0.885);
        Assert.Equal(1.277, Measured, 0.001);
        Assert.InRange(Measured, MouldConstant.Of(7850 * 272e3, 1500 - 20, 0.8655, 1600, 1170), MouldConstant.Of(7850 * 272e3, 1500 - 20, 0.61, 1600, 1130));
    }

    // Wrong answers found on the web, which must not come out. A spherical feeder for a plate of 200 x 100 x 20 mm that takes 3.5 min, for 4.2 min: printed 6.02 mm, right 50.56.
    // (qammunity.org/11483573)
    [Fact]
    public void A_spherical_feeder_is_not_as_small_as_a_web_answer_has_it()
    {
        var diameter = 6 * Modulus.Block(200, 100, 20) * Math.Sqrt(4.2 / 3.5);
        Assert.Equal(50.56, diameter, 0.01);
        Assert.Equal(diameter / 6, Modulus.Sphere(diameter), 1e-12);
        Assert.NotEqual(6.02, diameter, 1.0);
        // The printed one would freeze long before its plate.
        Assert.True(Modulus.Sphere(6.02) < Modulus.Block(200, 100, 20));
    }

    // A cylinder of 10 cm, 12.56 kg of 7.85 g/cm3: printed 2.04 cm high and 2.94 min/cm2, right 20.37 cm; that of 2.04 cm would weigh a tenth.
    // (questions.collegedunia.com, a cylindrical casting has 10 cm diameter)
    [Fact]
    public void A_cylinder_is_as_high_as_its_weight_makes_it()
    {
        var height_mm = 12.56 / 7850e-9 / Flow.Circle_mm2(100);
        Assert.Equal(203.7, height_mm, 0.05);
        Assert.NotEqual(20.4, height_mm, 1.0);
    }

    // A cube of 80 mm whose pattern is given the shrinkage on freezing too: printed 81.68 mm. A pattern carries the contraction of the solid alone; what freezing lacks is the feeder's.
    // (cdquestions.com, in casting a cube of 80 mm side; against engineering.myindialist.com, GATE questions on casting)
    [Fact]
    public void A_pattern_carries_no_shrinkage_on_freezing()
    {
        var alloy = FoundryTables.Default.Alloy("AlSi7Mg");
        Assert.True(alloy.Heat.FreezingShrinkage_percent!.Value > 4);
        var pattern = Contraction.PatternSize(80, Contraction.ForAlloy(alloy, 80).Value);
        Assert.Equal(80 * 1.013, pattern, 0.005);
        Assert.NotEqual(81.68, pattern, 0.3);
        Assert.NotEqual(80 * (1.013 + (alloy.Heat.FreezingShrinkage_percent.Value / 300)), pattern, 0.3);
    }

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
