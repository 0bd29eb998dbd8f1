using CsCheck;

namespace PatternKit.Foundry.Tests.Feeding;

/// <summary>Feeders against the worked examples of textbooks and examinations, and against their own definition.</summary>
public class FeederSizeTests
{
    private static readonly FeedingTable Table = FoundryTables.Default.Feeding;

    private static FeedingTable Slender(double diameters) => Table with { Height_diameters = Table.Height_diameters with { Value = diameters } };

    // GATE 2014: a disc of 200 mm, 100 mm thick, fed by a cylinder D = H whose foot does not cool, modulus 1.2 times: 150 mm (official answer, from memory; problem: gate-exam.in, riser and gating design).
    [Fact]
    public void The_feeder_of_a_disc_is_that_of_the_examination()
    {
        var disc = Modulus.Cylinder(200, 100);
        Assert.Equal(25, disc, 1e-12);
        Assert.Equal(150, FeederSize.OnTop(disc, 100, 1, 1, 1000, Slender(1))!.ByModulus_mm, 1e-9);
    }

    // Ghosh and Mallik, Manufacturing Science, p. 81: aluminium cube of 150 mm, which lacks 6.5 %: a side feeder D = H of three times that has A/V 0.636 per cm against 0.4 of the cube, and freezes first; one
    // of 150 mm with the cube's own modulus holds 2650 cm3; a top feeder half as high as wide is at least 180 mm wide. (FOSSEE Python textbook companions, ch2_2)
    [Fact]
    public void The_top_feeder_of_a_cube_is_that_of_the_textbook()
    {
        var byVolume_mm = Math.Cbrt(4 * 3 * 0.065 * 150 * 150 * 150 / Math.PI);
        Assert.Equal(0.6364, 10 / Modulus.Cylinder(byVolume_mm, byVolume_mm), 1e-4);
        Assert.Equal(0.4, 10 / Modulus.Block(150, 150, 150), 1e-12);
        Assert.Equal(Modulus.Block(150, 150, 150), Modulus.Cylinder(150, 150), 1e-12);
        Assert.Equal(2650.7, Flow.Circle_mm2(150) * 150 / 1000, 0.05);
        Assert.Equal(180, FeederSize.OnTop(Modulus.Block(150, 150, 150), 150, 1, 1, 1000, Slender(0.5))!.ByModulus_mm, 1e-9);
    }

    // Question of an examination page: cube of 100 mm, 5 % shrinkage, feeder of three times that, h = 2 r: r = 28.79 mm by volume. Three times the shrinkage
    // is what a feeder must hold that gives up a third beyond what it lacks itself. (testbook.com, MCQ on riser design)
    [Fact]
    public void The_feeder_by_volume_is_that_of_the_examination()
    {
        const double shrinkage = 5, efficiency = shrinkage + (100 / 3.0);
        Assert.Equal(3 * 0.05 * 1e6, FeederSize.Needed_mm3(1e6, shrinkage, efficiency), 1e-6);
        var table = Slender(1) with { Efficiency_percent = Table.Efficiency_percent with { Value = efficiency } };
        Assert.Equal(2 * 28.794, FeederSize.OnTop(1e-3, 1, 1e6, shrinkage, 1000, table)!.ByVolume_mm, 0.001);
    }

    // Conservation: what a feeder gives up fills what casting and feeder lack together.
    [Fact]
    public void What_a_feeder_gives_up_is_what_both_lack()
    {
        var volume = FeederSize.Needed_mm3(8e4, 5.2, 14);
        Assert.Equal(0.14 * volume, 0.052 * (8e4 + volume), 1e-6);
    }

    [Fact]
    public void Whatever_the_room_the_feeder_outlasts_its_section_and_holds_enough() =>
        Gen.Select(Gen.Double[0.5, 30], Gen.Double[1e2, 1e7], Gen.Double[0.5, 10], Gen.Double[1, 300]).Sample((section, fed, shrinkage, room) =>
        {
            var wanted = Table.Moduli.Feeder * section;
            if (FeederSize.OnTop(section, 4 * section, fed, shrinkage, room, Table) is not { } size)
            {
                Assert.True(room < FeederSize.LeastRoom_mm(section, Table));
                return;
            }

            Assert.Equal(Math.Max(size.ByModulus_mm, size.ByVolume_mm), size.Diameter_mm);
            Assert.InRange(size.Height_mm, 0, room);
            Assert.True(size.Modulus_mm >= wanted * (1 - 1e-9));
            Assert.True(Math.PI / 4 * size.Diameter_mm * size.Diameter_mm * size.Height_mm >= FeederSize.Needed_mm3(fed, shrinkage, Table.Efficiency_percent.Value) * (1 - 1e-9));
            // No smaller one does: the demand that decides is just met.
            var (d, h) = (0.999 * size.Diameter_mm, Math.Min(room, Table.Height_diameters.Value * 0.999 * size.Diameter_mm));
            Assert.True(Modulus.StandingCylinder(d, h) < wanted || Math.PI / 4 * d * d * h < FeederSize.Needed_mm3(fed, shrinkage, Table.Efficiency_percent.Value));
            // A neck as wide as a bar that it feeds, since its feeder keeps it hot.
            Assert.Equal(Math.Min(size.Diameter_mm, 4 * section), size.Neck_mm, 1e-9);
        });

    // Of a wall the ball within is narrower than four moduli: the neck needs its own.
    [Fact]
    public void The_neck_to_a_wall_is_as_wide_as_its_modulus_asks() =>
        Assert.Equal(4 * Table.Moduli.Neck * 5, FeederSize.OnTop(5, 10, 1e6, 5, 1000, Table)!.Neck_mm, 1e-9);

    [Fact]
    public void A_metal_that_shrinks_by_more_than_a_feeder_gives_up_cannot_be_fed() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => FeederSize.Needed_mm3(1e5, 14, 14));

    // Bishop and Pellini, AFS Transactions 1950 (from memory): 4.5 thicknesses in steel plates.
    [Fact]
    public void The_distance_is_long_in_steel_and_short_in_tin_bronze()
    {
        Assert.Equal(4.5, Table.DistanceOf(FoundryTables.Default.Alloy("carbon-steel"))!.Value);
        Assert.Equal(2, Table.DistanceOf(FoundryTables.Default.Alloy("CuSn10Zn2"))!.Value);
        Assert.True(Table.IsLongRange(FoundryTables.Default.Alloy("CuSn10Zn2")));
        Assert.False(Table.IsLongRange(FoundryTables.Default.Alloy("AlSi7Mg")));
    }

    // A cube of 50 mm of pure aluminium, poured at its melting point: 0.125 litre, 2380 kg/m³, 389 kJ/kg: 115.7 kJ. (closed form) Down to half of its modulus, sand takes half of that
    // in the time, a quarter of its own; iron of 540 J/kgK that gets 350 degrees warmer takes 189 kJ/kg, so that 0.306 kg take the rest.
    [Fact]
    public void A_chill_takes_what_the_sand_does_not_take_in_time()
    {
        var row = FoundryTables.Default.Feeding.Chill;
        var heat = 2380 * 389e3;
        var chill = Chill.For(50.0 / 6, 25.0 / 6, 50, 125_000, heat, row);
        Assert.Equal(0.306, chill.Mass_kg, 0.001);
        Assert.Equal(0.306 / 7150 * 1e9 / 2500, chill.Thick_mm, 0.1);
        // Balance: sand and chill together take all.
        var time = Math.Pow(25.0 / 6 / (50.0 / 6), 2);
        Assert.Equal(125e-6 * heat, (Math.Sqrt(time) * 125e-6 * heat) + (chill.Mass_kg * row.Heat_J_kgK * row.Rise_C), 1e-6 * heat);
        Assert.True(Chill.For(8, 7, 50, 125_000, heat, row).Mass_kg < chill.Mass_kg);
        // What hardly stands out would need a foil.
        var least = Chill.For(8, 7.99, 50, 125_000, heat, row);
        Assert.Equal(row.Least_mm.Value, least.Thick_mm);
        Assert.Equal(50 * 50 * least.Thick_mm * 1e-9 * row.Density_kg_m3, least.Mass_kg, 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => Chill.For(8, 8, 50, 125_000, heat, row));
    }

    // Compound growth: one feeding distance is one step, two are two, none is none. (closed form)
    [Fact]
    public void A_wall_grows_by_one_step_over_each_feeding_distance()
    {
        Assert.Equal(8.8, FeedingTaper.Root_mm(8, 32, 32, 1.1), 1e-9);
        Assert.Equal(8 * 1.21, FeedingTaper.Root_mm(8, 64, 32, 1.1), 1e-9);
        Assert.Equal(8, FeedingTaper.Root_mm(8, 64, 32, 1), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => FeedingTaper.Root_mm(8, 0, 32, 1.1));
    }

    // The moduli of section, neck and feeder are as 1 : 1.1 : 1.2 (tutorial of the Bangladesh University of Engineering and Technology): a gate feeds what its ingate as the neck, and runner and sprue as the feeder, outlast.
    [Theory]
    [InlineData(11, 120, 120, 10)]
    [InlineData(110, 12, 120, 10)]
    [InlineData(110, 120, 12, 10)]
    public void A_gate_feeds_what_the_first_of_its_parts_to_freeze_outlasts(double ingate, double runner, double sprue, double section) =>
        Assert.Equal(section, new GateNeck(ingate, runner, sprue).Feeds_mm(Table.Moduli), 1e-9);

    // Widened it keeps what it must hold, and its modulus is that of the wider cylinder that stands on its section: DH / (4H + D).
    [Fact]
    public void A_wider_feeder_has_the_modulus_of_its_width()
    {
        var size = FeederSize.OnTop(5, 20, 1e5, 5, 60, Table)!;
        var wide = size.Widened(80, 60, Table);
        Assert.Equal((size.Volume_mm3, size.Neck_mm, 80.0, 80.0), (wide.Volume_mm3, wide.Neck_mm, wide.Diameter_mm, wide.ByVolume_mm));
        Assert.Equal(80 * 60 / ((4 * 60) + 80.0), wide.Modulus_mm, 1e-9);
        Assert.True(wide.Modulus_mm > size.Modulus_mm);
    }
}
