namespace PatternKit.Foundry;

/// <summary>What presses the halves of a mould apart that stands on edge: the metal on a joint that is upright, deeper down with more (hydrostatics, as on a lock gate).</summary>
/// <param name="Metal_N">ρ g ∫ h dA over the plan of all metal at the joint, h the depth below the level in the cup.</param>
/// <param name="Centre_mm">Depth at which that acts as one force: ∫ h² dA / ∫ h dA.</param>
/// <param name="Deepest_kPa">Pressure at the lowest place, where a joint leaks first.</param>
/// <param name="Factor">Boards and clamps hold so many times the thrust.</param>
public sealed record JointThrust(double Metal_N, double Centre_mm, double Deepest_kPa, Sourced<double> Factor)
{
    /// <summary>What all clamps together have to hold: neither sand nor flask weighs against a thrust from the side.</summary>
    public double Clamps_N => Factor.Value * Metal_N;

    /// <summary>The thrust over an upright plane figure.</summary>
    /// <param name="area_mm2">∫ dA.</param>
    /// <param name="first_mm3">∫ h dA.</param>
    /// <param name="second_mm4">∫ h² dA.</param>
    /// <param name="deepest_mm">h of its lowest place.</param>
    /// <param name="metal_kg_m3">ρ, of the liquid.</param>
    /// <param name="factor">Of the clamps.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no area, or all of it lies above the level.</exception>
    public static JointThrust Over(double area_mm2, double first_mm3, double second_mm4, double deepest_mm, double metal_kg_m3, Sourced<double> factor)
    {
        Checked.Positive(area_mm2, nameof(area_mm2));
        Checked.Positive(first_mm3, nameof(first_mm3));
        return new(CopeBalance.PressureLift_N(first_mm3, metal_kg_m3), second_mm4 / first_mm3, CopeBalance.PressureLift_N(deepest_mm * 1e6, metal_kg_m3) / 1000, factor);
    }
}
