namespace PatternKit.Foundry.Tests.Freezing;

/// <summary>Freezing times and moduli against the worked examples of textbooks and examinations.</summary>
public class FreezingTests
{
    // Groover-type plate 300 × 100 × 20 mm, 4.0 min/cm²: 2.493 min. Disc 500 × 20 mm, 2.0 s/mm²: 171.5 s. Plate 300 × 150 × 20 mm: 2.78 min.
    // (scribd.com/doc/64349403, Amem201 lecture 3, problems; partnerperformance.uonbi.ac.ke/preguntia/13390677)
    [Fact]
    public void Plates_and_discs_freeze_in_the_times_of_the_examples()
    {
        Assert.Equal(2.493, MouldConstant.Time_s(4.0, Modulus.Block(30, 10, 2)), 0.003);
        Assert.Equal(171.5, MouldConstant.Time_s(2.0, Modulus.Cylinder(500, 20)), 0.1);
        Assert.Equal(2.7778, MouldConstant.Time_s(4.0, Modulus.Block(30, 15, 2)), 0.001);
    }

    // A cube of 50 mm freezes in 155 s: 2.232 s/mm²; a cylinder 30 × 50 mm then takes 74.3 s. (scribd.com/doc/64349403, Amem201 lecture 3, problems)
    [Fact]
    public void A_constant_from_one_pour_serves_the_next()
    {
        var constant = 155 / Math.Pow(Modulus.Block(50, 50, 50), 2);
        Assert.Equal(2.232, constant, 0.001);
        Assert.Equal(74.3, MouldConstant.Time_s(constant, Modulus.Cylinder(30, 50)), 0.05);
    }

    // GATE 2015: cylinder h = r over cube 2r: 0.5625; a cube with one face insulated over a plain one: 36/25. GATE 2003: sphere of 200 mm, 0.97 s/mm²: 1078 s.
    // 400 × 200 × 140 takes 20 min, 400 × 200 × 35 then 3.296 min. (gate-exam.in, Mechanical GATE 2015, questions 242 and 46; engineering.myindialist.com; byjus.com)
    [Fact]
    public void Ratios_of_freezing_times_are_those_of_the_examinations()
    {
        Assert.Equal(0.5625, Math.Pow(Modulus.Cylinder(2, 1) / Modulus.Block(2, 2, 2), 2), 1e-12);
        Assert.Equal(1.44, Math.Pow(1 / 5.0 / Modulus.Block(1, 1, 1), 2), 1e-9);
        Assert.Equal(1077.8, MouldConstant.Time_s(0.97, Modulus.Sphere(200)), 0.1);
        Assert.Equal(3.296, 20 * Math.Pow(Modulus.Block(400, 200, 35) / Modulus.Block(400, 200, 140), 2), 0.003);
    }

    // A web answer says 2.98 cm for a slab of 25 × 25 × 5 cm: it is 1.786 cm, and a feeder D = H of equal modulus is 10.71 cm. (qammunity.org/19812291)
    [Fact]
    public void A_wrong_answer_found_on_the_web_is_not_reproduced()
    {
        Assert.Equal(1.786, Modulus.Block(25, 25, 5), 0.001);
        Assert.Equal(1.786, Modulus.Cylinder(10.714, 10.714), 0.001);
    }

    [Fact]
    public void Simple_bodies_are_limits_of_blocks_and_cylinders()
    {
        Assert.Equal(Modulus.Wall(10), Modulus.Block(1e9, 1e9, 10), 1e-6);
        Assert.Equal(Modulus.Bar(10, 30), Modulus.Block(10, 30, 1e9), 1e-6);
        Assert.Equal(Modulus.RoundBar(10), Modulus.Cylinder(10, 1e9), 1e-6);
        Assert.Equal(10 / 6.0, Modulus.Cylinder(10, 10), 1e-12);
        Assert.Equal(10 / 5.0, Modulus.StandingCylinder(10, 10), 1e-12);
    }

    // Constants worked out from handbook values without superheat, s/mm², for sands of 0.8655 W/mK, 1600 kg/m³, 1170 J/kgK, and of 0.61, 1600, 1130.
    [Theory]
    [InlineData(2680, 389e3, 613, 1.52, 2.24)]
    [InlineData(2700, 397e3, 660, 1.38, 2.03)]
    [InlineData(8930, 205e3, 1083, 1.46, 2.15)]
    public void Mould_constants_are_those_worked_out_by_hand(double density, double latent, double freezes_C, double first, double second)
    {
        Assert.Equal(first, MouldConstant.Of(density * latent, freezes_C - 20, 0.8655, 1600, 1170), 0.03 * first);
        Assert.Equal(second, MouldConstant.Of(density * latent, freezes_C - 20, 0.61, 1600, 1130), 0.03 * second);
    }

    // Ghosh and Mallik, Manufacturing Science, p. 66: iron slab of 100 mm, 1540 °C, sand at 28 °C, 272 kJ/kg, 7850 kg/m³, sand 0.8655 / 1600 / 1170: 0.671 h by the plain rule;
    // a sphere of the same width: printed 0.054 h with a rounded root, 0.0546 h.
    // (FOSSEE Python textbook companions, Manufacturing Science, ch2_2)
    [Fact]
    public void An_iron_slab_freezes_in_two_fifths_of_an_hour_and_more()
    {
        var constant = MouldConstant.Of(7850 * 272e3, 1540 - 28, 0.8655, 1600, 1170);
        Assert.Equal(0.671, MouldConstant.Time_s(constant, Modulus.Wall(100)) / 3600, 5e-4);
        Assert.Equal(0.0546, MouldConstant.Time_s(BodyShape.Sphere, Modulus.Sphere(0.1), 7850 * 272e3, 1540 - 28, 0.8655, 1600, 1170) / 3600, 2e-4);
    }

    // Closed forms for dry silica (0.61, 1500, 1130) at 20 °C: metal, then seconds of plate, round bar and sphere of modulus 5 mm, then of 20 mm. Those of bars are the exact ones.
    [Theory]
    [InlineData(2500, 389e3, 660, 43.85, 33.42, 30.64, 701.6, 534.7, 490.3)]
    [InlineData(8000, 190e3, 1000, 45.68, 34.67, 31.74, 731.0, 554.7, 507.9)]
    [InlineData(7200, 272e3, 1500, 33.25, 26.08, 24.12, 532.0, 417.3, 386.0)]
    public void Round_bodies_freeze_faster_than_plates_of_their_modulus(double density, double latent, double freezes_C, double plate5, double bar5, double sphere5, double plate20, double bar20, double sphere20)
    {
        double Time(BodyShape shape, double modulus) => MouldConstant.Time_s(shape, modulus, density * latent, freezes_C - 20, 0.61, 1500, 1130);
        Assert.Equal(plate5, Time(BodyShape.Plate, 5e-3), 1e-3 * plate5);
        Assert.Equal(bar5, Time(BodyShape.RoundBar, 5e-3), 0.02 * bar5);
        Assert.Equal(sphere5, Time(BodyShape.Sphere, 5e-3), 1e-3 * sphere5);
        Assert.Equal(plate20, Time(BodyShape.Plate, 20e-3), 1e-3 * plate20);
        Assert.Equal(bar20, Time(BodyShape.RoundBar, 20e-3), 0.02 * bar20);
        Assert.Equal(sphere20, Time(BodyShape.Sphere, 20e-3), 1e-3 * sphere20);
        Assert.Equal(plate5, MouldConstant.Time_s(MouldConstant.Of(density * latent, freezes_C - 20, 0.61, 1500, 1130), 5), 1e-3 * plate5);
    }

    // A plate of tin bronze, 3 mm thick, poured 130 °C above its liquidus of 1000 °C without resistance at its face: 14.71 s by a fine grid with the whole freezing range.
    [Fact]
    public void A_freezing_range_and_superheat_lengthen_the_time()
    {
        var bronze = new MetalHeat(8000, 450, 450, 190e3, 1000, 850, 0.25, 20, 0.2);
        var constant = MouldConstant.Of(bronze.UntilSolid_J_m3(1130), bronze.FreezesAt_C - 20, 0.61, 1500, 1130);
        Assert.Equal(14.71, MouldConstant.Time_s(constant, Modulus.Wall(3)), 0.05 * 14.71);
    }
}
