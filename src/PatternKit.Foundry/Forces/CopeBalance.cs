namespace PatternKit.Foundry;

/// <summary>What lifts a cope and what holds it down, newton.</summary>
/// <param name="Metal_N">Pressure of the metal on the cope's sand.</param>
/// <param name="Cores_N">Lift of the cores that the cope holds down.</param>
/// <param name="Sand_N">Weight of the cope's sand.</param>
/// <param name="Flask_N">Weight of its flask; 0 where it is not known.</param>
/// <param name="Factor">Sand, flask and weights hold so many times what lifts.</param>
public sealed record CopeBalance(double Metal_N, double Cores_N, double Sand_N, double Flask_N, Sourced<double> Factor)
{
    /// <summary>All that lifts.</summary>
    public double Lift_N => Metal_N + Cores_N;

    /// <summary>All that holds down without weights.</summary>
    public double Held_N => Sand_N + Flask_N;

    /// <summary>Lift that nothing holds, below 0 where the cope would lie still by itself.</summary>
    public double Net_N => Lift_N - Held_N;

    /// <summary>What weights or clamps have to add; 0 where sand and flask are enough.</summary>
    public double Added_N => Math.Max(0, (Factor.Value * Lift_N) - Held_N);

    /// <summary>The same as a mass to lay on.</summary>
    public double Weights_kg => Added_N / CoreForces.Gravity_m_s2;

    /// <summary>
    /// Lift of a liquid on what lies over it: ρ g ∫ (level − z) dA over the plan, the hydrostatic law. A curved roof counts by its plan, not by its skin.
    /// </summary>
    /// <param name="under_mm3">The integral: the space between the roof of the cavity and the level of the metal.</param>
    /// <param name="metal_kg_m3">ρ, of the liquid.</param>
    /// <exception cref="ArgumentOutOfRangeException">The space is below 0, or the density not positive.</exception>
    public static double PressureLift_N(double under_mm3, double metal_kg_m3)
    {
        Checked.Positive(metal_kg_m3, nameof(metal_kg_m3));
        return CoreForces.Weight_N(under_mm3, metal_kg_m3);
    }
}
