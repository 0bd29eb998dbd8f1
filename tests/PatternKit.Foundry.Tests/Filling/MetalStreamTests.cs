namespace PatternKit.Foundry.Tests.Filling;

/// <summary>Reach of a stream and heads of entry, against spiral lengths and tables computed apart from the program.</summary>
public class MetalStreamTests
{
    private static MetalHeat Aluminium => new(2450, 1100, 1100, 389e3, 613, 557, 0.3, 20, 0.2);

    private static MetalHeat Bronze => new(8000, 450, 450, 190e3, 1000, 850, 0.25, 20, 0.2);

    // Fluidity spiral of gray iron, L(cm) = 37.846 CF + 0.228 T(°C) − 389.6, CF = C + Si/4 + P/2; for CF 4.3: 58.1 to 103.7 cm. Modulus of the
    // spiral 1.9 mm, 7000 kg/m³, 850 J/kgK, 240 kJ/kg, liquidus 1150 °C: 4390 J/m³K and a solid part of 0.55 give all five lengths.
    [Theory]
    [InlineData(1250, 58.1)]
    [InlineData(1300, 69.5)]
    [InlineData(1350, 80.9)]
    [InlineData(1400, 92.3)]
    [InlineData(1450, 103.7)]
    public void The_spiral_of_gray_iron_runs_as_far_as_its_law_says(double poured_C, double length_cm)
    {
        Assert.Equal(length_cm, (37.846 * 4.3) + (0.228 * poured_C) - 389.6, 0.1);
        var iron = new MetalHeat(7000, 850, 540, 240e3, 1150, 1140, 0.55, 20, 0.2);
        Assert.Equal(length_cm, 100 * MetalStream.Reach_m(iron.UntilTipStops_J_m3(poured_C), 1, 4390, 1.9e-3, 1150 - 20), 0.15);
    }

    // The coefficient and the solid part of the table are those of the spiral at about 0.5 m/s.
    [Fact]
    public void The_table_is_calibrated_on_the_spiral()
    {
        var table = FoundryTables.Default.Filling;
        Assert.Equal(4390 * 0.5, table.FrontHeat.Value_W_m2K, 0.1 * 2195);
        Assert.Equal(0.55, table.StoppingOf(FoundryTables.Default.Alloy("gray-iron")).Value);
    }

    // Tip lengths at 0.4 m/s, mean temperature 640 and 1020 °C, coefficient 1000: wall, pouring temperature, length in mm.
    [Theory]
    [InlineData(true, 2, 680, 301)]
    [InlineData(true, 2, 760, 440)]
    [InlineData(true, 3, 680, 451)]
    [InlineData(true, 3, 760, 660)]
    [InlineData(true, 5, 680, 752)]
    [InlineData(true, 5, 760, 1100)]
    [InlineData(false, 3, 1080, 401)]
    [InlineData(false, 3, 1180, 617)]
    [InlineData(false, 5, 1080, 668)]
    [InlineData(false, 5, 1180, 1028)]
    public void A_thin_wall_runs_as_far_as_the_table_says(bool isAluminium, double wall_mm, double poured_C, double length_mm)
    {
        var (metal, mean_C) = isAluminium ? (Aluminium, 640.0) : (Bronze, 1020.0);
        double Length(double transfer) => 1000 * MetalStream.Reach_m(metal.UntilTipStops_J_m3(poured_C), 0.4, transfer, Modulus.Wall(wall_mm) / 1000, mean_C - 20);
        Assert.Equal(length_mm, Length(1000), 1.0);
        Assert.Equal(length_mm / 2, Length(2000), 1.0);
    }

    // 0.3 m/s, modulus 2 mm, coefficient 1000, 2450 kg/m³, 1100 J/kgK, 700 °C: 620.9, 519.1, 386.4 °C; the liquidus of 613 °C at 0.2214 m.
    [Theory]
    [InlineData(0.2, 620.9)]
    [InlineData(0.5, 519.1)]
    [InlineData(1.0, 386.4)]
    [InlineData(0.2214, 613)]
    public void A_stream_cools_with_the_exponential_of_its_way(double way_m, double temperature_C) =>
        Assert.Equal(temperature_C, MetalStream.Temperature_C(700, 20, way_m, 1000, 2450 * 1100, 0.3, 2e-3), 0.1);

    // Heads of entry, mm, into slots of 1, 2, 3 and 5 mm.
    [Theory]
    [InlineData(0.9, 2400, 1, 76)]
    [InlineData(0.9, 2400, 2, 38)]
    [InlineData(0.9, 2400, 3, 25)]
    [InlineData(0.9, 2400, 5, 15)]
    [InlineData(1.2, 7900, 1, 31)]
    [InlineData(1.2, 7900, 5, 6)]
    [InlineData(1.2, 7000, 2, 18)]
    [InlineData(1.7, 7000, 2, 25)]
    public void A_narrow_slot_asks_for_head(double tension_N_m, double density_kg_m3, double width_mm, double head_mm) =>
        Assert.Equal(head_mm, MetalStream.EntryHead_mm(tension_N_m, density_kg_m3, width_mm), 0.6);

    [Fact]
    public void Hotter_metal_thicker_walls_and_faster_streams_come_farther()
    {
        double Reach(double poured, double speed, double wall) => MetalStream.Reach_m(Aluminium.UntilTipStops_J_m3(poured), speed, 2000, wall / 2000, 600);
        Assert.True(Reach(740, 0.4, 3) > Reach(720, 0.4, 3));
        Assert.Equal(2 * Reach(720, 0.2, 3), Reach(720, 0.4, 3), 1e-9);
        Assert.Equal(2 * Reach(720, 0.4, 3), Reach(720, 0.4, 6), 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => Reach(720, 0, 3));
    }

    // Water of 72.8 mN/m: capillary length 2.73 mm, so that a puddle on what it does not wet is 5.45 mm high. (de Gennes, Brochard-Wyart and Quéré 2004, from memory)
    [Fact]
    public void A_puddle_stands_two_capillary_lengths_high()
    {
        Assert.Equal(5.45, MetalStream.FrontHeight_mm(0.0728, 998), 0.02);
        // Aluminium stands higher than bronze, which weighs more.
        Assert.True(MetalStream.FrontHeight_mm(0.9, 2400) > MetalStream.FrontHeight_mm(1.2, 8000));
    }

    // Darcy and Weisbach with 0.03 for each hydraulic diameter: at 0.5 m/s the velocity head is 12.75 mm; between walls 3 mm apart the hydraulic diameter is 6 mm.
    [Fact]
    public void A_stream_in_a_thin_wall_falls_by_its_friction()
    {
        Assert.Equal(0.03 * 12.746 / 6, MetalStream.Slope(0.03, 0.5, 3), 1e-4);
    }
}
