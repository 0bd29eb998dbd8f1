namespace PatternKit.Foundry.Tests;

/// <summary>Lift of the cope by numbers alone, against published examples.</summary>
public class CopeBalanceTests
{
    private static double Density(double kN_m3) => kN_m3 * 1000 / CoreForces.Gravity_m_s2;

    // P.N. Rao type example: a cast-iron pipe, 12.5 cm outside, 10 cm inside, 180 cm long, lying; head 20 cm; flask 200 x 25 x 20 cm; core 0.0165, metal 0.0771 N/cm3.
    // Printed: core 856.7, metal 3469.5, cope 1650, net 2676.7 N, which holds a slip of addition of 0.5 N. (www.scribd.com/doc/256424299)
    [Fact]
    public void A_pipe_with_its_core_lifts_as_in_the_example()
    {
        var (metal, sand) = (Density(77.1), Density(16.5));
        var balance = new CopeBalance(
            CopeBalance.PressureLift_N(125.0 * 1800 * 200, metal), CoreForces.Lift_N(Math.PI / 4 * 100 * 100 * 1800, metal, sand), CoreForces.Weight_N(2000.0 * 250 * 200, sand), 0, new(1, "", ""));
        Assert.Equal(3469.5, balance.Metal_N, 0.05);
        Assert.Equal(4326.21, balance.Lift_N, 0.02);
        Assert.Equal(1650, balance.Held_N, 0.05);
        Assert.Equal(2676.21, balance.Net_N, 0.05);
        Assert.Equal(2676.21, balance.Added_N, 0.05);
        Assert.Equal(2676.21 / 9.81, balance.Weights_kg, 0.01);
    }

    // GATE 1991: a block of 150 x 100 x 50 mm, all in the drag; flask 300 x 200 mm, cope 50 mm deep and poured to its top; metal 78, sand 16 kN/m3.
    // Lift 58.5 N, cope sand 48.0 N, 10.5 N up. (questions.examside.com, GATE ME 1991)
    [Fact]
    public void A_block_under_a_shallow_cope_lifts_it()
    {
        var balance = new CopeBalance(
            CopeBalance.PressureLift_N(150.0 * 100 * 50, Density(78)), 0, CoreForces.Weight_N(300.0 * 200 * 50, Density(16)), 0, new(1, "", ""));
        Assert.Equal((58.5, 48.0, 10.5), (Math.Round(balance.Metal_N, 6), Math.Round(balance.Held_N, 6), Math.Round(balance.Net_N, 6)));
    }

    // Whiteley, Iron Founding (1921): 8 in of head over 2 square feet lift 5 hundredweight and a fraction, by 0.26 lb of iron a cubic inch: 5.35 cwt of 112 lb. (bookdepository.com/Iron-Founding-B-Whiteley/9781236601599)
    [Fact]
    public void Two_square_feet_under_eight_inches_lift_five_hundredweight_and_a_fraction()
    {
        const double Inch = 25.4, Pound = 0.45359237;
        var iron_kg_m3 = 0.26 * Pound / Math.Pow(Inch / 1000, 3);
        var lift = CopeBalance.PressureLift_N(2 * 144 * 8 * Math.Pow(Inch, 3), iron_kg_m3);
        Assert.Equal(5.35, lift / CoreForces.Gravity_m_s2 / Pound / 112, 0.005);
    }

    // Head of 100 mm in kPa: aluminium 2.4, zinc 6.5, gray iron 6.8, steel 6.9, bronze 7.7 (founders' table), by the densities of the tables within a fifth of a kPa.
    [Theory]
    [InlineData("AlSi7Mg", 2.4)]
    [InlineData("gray-iron", 6.8)]
    public void A_hundred_millimetres_of_metal_press_as_the_head_table_says(string alloy, double kPa) =>
        Assert.Equal(kPa, CopeBalance.PressureLift_N(100 * 1000, GatingRules.LiquidDensity(FoundryTables.Default.Alloy(alloy)).Value), 0.15);

    // Common practice: 1.25 to 1.5 times; of the whole lift, so that a cope that just balances is not left without.
    [Fact]
    public void A_cope_that_just_balances_is_weighted_still()
    {
        var balance = new CopeBalance(100, 20, 110, 10, FoundryTables.Default.Mould.Hold);
        Assert.InRange(balance.Factor.Value, 1.25, 2);
        Assert.Equal(0, balance.Net_N, 1e-12);
        Assert.Equal((balance.Factor.Value - 1) * 120, balance.Added_N, 1e-9);
        Assert.Equal(0, new CopeBalance(100, 0, 151, 0, balance.Factor).Added_N);
    }
}
