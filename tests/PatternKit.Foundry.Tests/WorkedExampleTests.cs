namespace PatternKit.Foundry.Tests;

/// <summary>Set problems with printed answers that no other file has: flow down a sprue, a ladle, feeders by time, metal to melt; and wrong answers that must not come out.</summary>
public class WorkedExampleTests
{
    // A sprue of 10 mm base diameter and 250 mm height passes 173 944 mm3/s. (byjus.com, question of a sprue of 10 mm base diameter)
    [Fact]
    public void A_sprue_of_ten_by_two_hundred_and_fifty_passes_a_hundred_and_seventy_four_cubic_centimetres_a_second() =>
        Assert.Equal(173944, Flow.Speed_mm_s(250) * Flow.Circle_mm2(10), 20.0);

    // Groover, set problem: sprue 20 cm long, 2.5 cm2 at its base, mould 1560 cm3: 198.1 cm/s, 495 cm3/s, 3.2 s.
    // (the problem: askfilo.com; the answers: a Scilab companion of the book, example 10.2)
    [Fact]
    public void A_mould_of_1560_cubic_centimetres_fills_in_three_seconds()
    {
        var speed_cm_s = Flow.Speed_mm_s(200) / 10;
        Assert.Equal(198.1, speed_cm_s, 0.05);
        Assert.Equal(495, 2.5 * speed_cm_s, 0.5);
        Assert.Equal(3.15, 1560 / (2.5 * speed_cm_s), 0.005);
    }

    // Ghosh and Mallik, Manufacturing Science, p. 53: the mould of 50 x 25 x 15 cm filled from the top, now with losses: entry 0.45 heads, friction 4 f (L/d + 25), f = 0.0791 Re^-1/4, L 12 cm, iron of
    // 7800 kg/m3 and 0.00496 kg/ms: 31.7 s, which is a discharge of 0.69. (FOSSEE Python textbook companions, ch2_2; its code has 0.46 in the second pass)
    [Fact]
    public void The_same_mould_takes_half_as_long_again_with_the_losses_of_its_gate()
    {
        var (gate_m, speed_m_s) = (Flow.Diameter_mm(500) / 1000, Flow.Speed_mm_s(150) / 1000);
        double Discharge(double before) => 1 / Math.Sqrt(1 + 0.45 + (4 * 0.0791 * Math.Pow(7800 * before * speed_m_s * gate_m / 0.00496, -0.25) * ((0.12 / gate_m) + 25)));
        var discharge = Discharge(Discharge(1));
        Assert.InRange(discharge, 0.685, 0.700);
        Assert.Equal(31.7, new FillClock(500, discharge, 150).Time_s([new(-150, 0, 500 * 250)]), 0.15);
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

    // A sphere of 400 mm takes 1272 s: 0.286e6 s/m2. (testbook.com, Solidification Time MCQ, question 1)
    [Fact]
    public void The_constant_of_a_mould_follows_from_one_sphere() => Assert.Equal(0.286, 1272 / Math.Pow(Modulus.Sphere(400), 2), 5e-4);

    // A cylinder D = H against a cube of 2 D: 0.25. (selfstudy365.com, a solid cylinder of diameter D)
    [Fact]
    public void A_cylinder_freezes_four_times_as_fast_as_a_cube_twice_as_wide() => Assert.Equal(0.25, Math.Pow(Modulus.Cylinder(40, 40) / Modulus.Block(80, 80, 80), 2), 1e-12);

    // A cube of 50 mm takes 160 s: 3.84 min/cm2; a cylinder of 30 x 50 mm has a modulus of 5.769 mm, and takes 76.7 s by that constant (worked out by hand).
    // (montoguequiz.com, Solidification time and Chvorinov's rule)
    [Fact]
    public void A_constant_from_a_cube_gives_the_time_of_a_cylinder()
    {
        var constant_s_mm2 = 160 / Math.Pow(Modulus.Block(50, 50, 50), 2);
        Assert.Equal(3.84, constant_s_mm2 * 100 / 60, 1e-9);
        Assert.Equal(5.769, Modulus.Cylinder(30, 50), 5e-4);
        Assert.Equal(76.7, MouldConstant.Time_s(constant_s_mm2, Modulus.Cylinder(30, 50)), 0.05);
    }

    // Plate of 10 x 10 x 4 cm: 1.111 cm. (transtutors.com, a rectangular plate casting) Disc of radius 4 in, 2 in thick: 0.444 C; square plate of that volume, 4 in thick: printed 0.59 C, 0.598.
    // (homeworksource.com, a 100-mm thick square plate and right circular cylinder)
    [Fact]
    public void Moduli_of_a_plate_and_of_a_disc_are_as_printed()
    {
        Assert.Equal(1.111, Modulus.Block(10, 10, 4), 5e-4);
        Assert.Equal(0.444, Math.Pow(Modulus.Cylinder(8, 2), 2), 5e-4);
        var side = Math.Sqrt(Math.PI * 16 * 2 / 4);
        Assert.Equal(0.59, Math.Pow(Modulus.Block(side, side, 4), 2), 0.01);
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
