namespace PatternKit.Foundry.Tests;

/// <summary>The tables between pattern and pour hold the ranges of practice.</summary>
public class MouldTableTests
{
    private static readonly MouldTables Tables = FoundryTables.Default.Mould;

    // Least sand by weight of the casting, handbook table (from memory): above and below 40 mm up to 5 kg, 50 up to 10, 60 up to 25, 70 up to 50, 90 up to 100 kg;
    // to the wall 30 up to 5 kg, 40 up to 25, 50 up to 100 kg.
    [Theory]
    [InlineData(5, 40, 30)]
    [InlineData(10, 50, 40)]
    [InlineData(25, 60, 40)]
    [InlineData(50, 70, 50)]
    [InlineData(100, 90, 50)]
    public void Sand_round_a_casting_is_that_of_the_handbook(double kg, double above_mm, double wall_mm)
    {
        Assert.Equal(above_mm, GatingRules.SandBeyond(kg, "above", FoundryTables.Default.Gating).Value);
        Assert.Equal(wall_mm, FoundryTables.Default.Plates.Margin_mm(kg).Value);
    }

    // 10 - 20 mm on small work, about an inch on heavy work.
    [Fact]
    public void Facing_is_within_the_ranges_of_practice()
    {
        Assert.InRange(Tables.Facing_mm(2).Value, 10, 20);
        Assert.InRange(Tables.Facing_mm(80).Value, 24, 26);
    }

    // Wire of 1.5 - 3 mm, all vents together at least the area of the choke: 4 vents for a choke of 8 mm in diameter ask for more than 3 mm can give (4 x 7.07 < 50.3 mm2),
    // 8 for exactly 2.83 mm, so 3; 30 for 1.46 mm, so 1.5.
    [Theory]
    [InlineData(4, 0, 3, false)]
    [InlineData(8, 0, 3, true)]
    [InlineData(30, 0, 1.5, true)]
    // An opening of 5 mm leaves 30.6 mm2 to four wires: more than 3 mm each; one of 7 mm leaves 11.8, which 1.94 mm give; one of 8 mm nothing.
    [InlineData(4, 5, 3, false)]
    [InlineData(4, 7, 2, true)]
    [InlineData(4, 8, 1.5, true)]
    public void The_wire_is_the_thinnest_that_vents_as_much_as_the_choke_lets_in(int count, double open_mm, double wire_mm, bool enough)
    {
        var wire = Tables.Vents.Wire_mm(count, Flow.Circle_mm2(8), Flow.Circle_mm2(open_mm));
        Assert.Equal(wire_mm, wire.Value);
        Assert.Equal(enough, wire.Rule.StartsWith("the thinnest", StringComparison.Ordinal));
        Assert.InRange(Tables.Vents.Spacing_mm.Value, 25, 50);
        Assert.InRange(Tables.Vents.Short_mm.Value, 5, 10);
    }

    // An hour for every inch of iron; light metal never under a quarter of an hour.
    [Theory]
    [InlineData(AlloyFamily.Iron, 25, 60)]
    [InlineData(AlloyFamily.Iron, 5, 30)]
    [InlineData(AlloyFamily.Aluminium, 6, 15)]
    [InlineData(AlloyFamily.Copper, 50, 60)]
    public void A_casting_waits_by_its_thickest_section(AlloyFamily family, double section_mm, double minutes) =>
        Assert.Equal(minutes, ShakeOutRow.Wait_minutes(Tables.ShakeOut, family, section_mm, null, Tables.SolidTimes).Value, 1e-9);

    // 100 mm of a wall by 3 s/mm²: 3 · 50² s = 125 minutes till it is solid, three times that till it is shaken out; by its thickness alone 80.
    [Theory]
    [InlineData(3, 375)]
    [InlineData(0.5, 80)]
    public void No_casting_is_shaken_out_before_it_has_long_been_solid(double constant_s_mm2, double minutes) =>
        Assert.Equal(minutes, ShakeOutRow.Wait_minutes(Tables.ShakeOut, AlloyFamily.Aluminium, 100, MouldConstant.Time_s(constant_s_mm2, Modulus.Wall(100)), Tables.SolidTimes).Value, 1e-9);

    [Fact]
    public void Every_value_names_its_source()
    {
        Provenance[] all =
        [
            Tables.HoldFactor.From, Tables.SolidTimes.From, Tables.BoardStress_MPa.From, .. Tables.Facing.Select(f => f.From), Tables.LooseSand_kg_m3.From, Tables.Melting.UsefulShare.From, Tables.Melting.Brass_kg_m3.From,
            Tables.Melting.Aluminium_kg_m3.From, Tables.Melting.Lift_kg.From, Tables.Vents.WireFrom, Tables.Vents.Spacing_mm.From, Tables.Vents.Short_mm.From, Tables.Vents.Chokes.From,
            Tables.Vents.Peak_mm.From, .. Tables.ShakeOut.Select(r => r.From), Tables.Spread.UsualFrom, Tables.Spread.FitFrom,
        ];
        Assert.All(all, p => Assert.False(string.IsNullOrWhiteSpace(p.Source)));
        // What nobody has read says why it was taken.
        Assert.All(all.Where(p => p.Basis == Basis.CommonPractice && p.Source == "common practice"), p => Assert.True(p.Why.Length > 0 || p == Tables.Vents.Chokes.From));
    }
}
