using CsCheck;

namespace PatternKit.Foundry.Tests;

/// <summary>Thrust on a joint that stands upright, against the closed forms of hydrostatics that any textbook has.</summary>
public class JointThrustTests
{
    private const double Gravity = 9.81;

    private static readonly Sourced<double> Twice = new(2, "", "");

    private static JointThrust Rectangle(double wide_mm, double high_mm, double over_mm, double metal_kg_m3)
    {
        var (area, middle) = (wide_mm * high_mm, over_mm + (high_mm / 2));
        return JointThrust.Over(area, area * middle, (wide_mm * Math.Pow(high_mm, 3) / 12) + (area * middle * middle), over_mm + high_mm, metal_kg_m3, Twice);
    }

    // A plate b × h under the head H: ρ g b h (H + h/2); at the surface it acts at two thirds of the height.
    [Fact]
    public void A_plate_is_pressed_by_the_head_of_its_middle() =>
        Gen.Select(Gen.Double[10, 1000], Gen.Double[10, 1000], Gen.Double[0, 500], Gen.Double[1700, 11000]).Sample((b, h, over, rho) =>
        {
            var thrust = Rectangle(b, h, over, rho);
            Assert.Equal(rho * Gravity * (b / 1000) * (h / 1000) * ((over + (h / 2)) / 1000), thrust.Metal_N, 1e-9 * thrust.Metal_N);
            Assert.Equal(rho * Gravity * (over + h) / 1e6, thrust.Deepest_kPa, 1e-9 * thrust.Deepest_kPa);
            Assert.True(thrust.Centre_mm > over + (h / 2) && thrust.Centre_mm <= over + (2 * h / 3) + 1e-9);
            Assert.Equal(2 * thrust.Metal_N, thrust.Clamps_N, 1e-9);
        });

    [Fact]
    public void A_gate_that_reaches_the_surface_is_pressed_at_two_thirds_of_its_depth() => Assert.Equal(200, Rectangle(100, 300, 0, 1000).Centre_mm, 1e-9);

    // A disc: ρ g π r² times the depth y of its middle, acting at y + r²/(4y).
    [Fact]
    public void A_disc_is_pressed_by_the_head_of_its_middle_and_a_little_below_it()
    {
        const double R = 80, Y = 140;
        var area = Math.PI * R * R;
        var thrust = JointThrust.Over(area, area * Y, (Math.PI * Math.Pow(R, 4) / 4) + (area * Y * Y), Y + R, 7700, Twice);
        Assert.Equal(7700 * Gravity * Math.PI * 0.08 * 0.08 * 0.14, thrust.Metal_N, 1e-9);
        Assert.Equal(Y + (R * R / (4 * Y)), thrust.Centre_mm, 1e-9);
    }

    // Set problems of hydraulics, fresh water: a gate 1.5 m wide and 3 m high, its top 2 m down: 154.51 kN at 3.714 m; a disc of 1.2 m, its middle 2.5 m down: 27.73 kN (27.74) at 2.536 m.
    // (ceboardexamgenerator.com, hydraulics, hydrostatic force on plane surfaces) A gate 2 m wide and 3 m high, its top 1 m down: 147 150 N. (openknowledgegraph.com, forces on submerged surfaces)
    [Fact]
    public void Gates_of_the_examples_are_pressed_as_printed()
    {
        var gate = Rectangle(1500, 3000, 2000, 1000);
        Assert.Equal(154.51, gate.Metal_N / 1000, 0.005);
        Assert.Equal(3.714, gate.Centre_mm / 1000, 0.0005);
        const double R = 600, Y = 2500;
        var area = Math.PI * R * R;
        var disc = JointThrust.Over(area, area * Y, (Math.PI * Math.Pow(R, 4) / 4) + (area * Y * Y), Y + R, 1000, Twice);
        Assert.Equal(27.73, disc.Metal_N / 1000, 0.01);
        Assert.Equal(2.536, disc.Centre_mm / 1000, 0.0005);
        Assert.Equal(147150, Rectangle(2000, 3000, 1000, 1000).Metal_N, 0.5);
    }

    // Founders' reckoning: 200 × 150 mm of bronze on edge under 100 mm of sprue press some 400 N sideways.
    [Fact]
    public void A_bronze_plate_on_edge_presses_some_four_hundred_newton() => Assert.Equal(400, Rectangle(200, 150, 100, 7700).Metal_N, 5.0);

    [Fact]
    public void Without_area_or_below_no_metal_there_is_no_thrust()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => JointThrust.Over(0, 1, 1, 1, 1000, Twice));
        Assert.Throws<ArgumentOutOfRangeException>(() => JointThrust.Over(1, -1, 1, 1, 1000, Twice));
    }
}
