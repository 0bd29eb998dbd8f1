namespace PatternKit.Foundry;

/// <summary>Metal that runs through sand: how far its tip comes, how it cools behind, what head it takes to enter a narrow place. SI units.</summary>
public static class MetalStream
{
    /// <summary>
    /// How far the tip of a stream comes before it stops, m: L = (v/h) ρ M (c ΔT + f L) / (T̄ − T₀), the form of Flemings, Solidification
    /// Processing (1974), ch. 7, where the interface resists.
    /// </summary>
    /// <param name="heat_J_m3">ρ (c ΔT + f L): <see cref="MetalHeat.UntilTipStops_J_m3"/>.</param>
    /// <param name="speed_m_s">v.</param>
    /// <param name="transfer_W_m2K">h.</param>
    /// <param name="modulus_m">M: volume over cooling surface; half the thickness of a wall.</param>
    /// <param name="excess_C">T̄ − T₀: mean temperature of the metal over that of the sand.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double Reach_m(double heat_J_m3, double speed_m_s, double transfer_W_m2K, double modulus_m, double excess_C)
    {
        Checked.Positive(heat_J_m3, nameof(heat_J_m3));
        Checked.Positive(speed_m_s, nameof(speed_m_s));
        return speed_m_s * heat_J_m3 / Loss_W_m3(transfer_W_m2K, modulus_m, excess_C);
    }

    /// <summary>Heat that metal loses to the sand in a second, W/m³: h (T̄ − T₀) / M.</summary>
    /// <param name="transfer_W_m2K">h.</param>
    /// <param name="modulus_m">M.</param>
    /// <param name="excess_C">T̄ − T₀.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double Loss_W_m3(double transfer_W_m2K, double modulus_m, double excess_C)
    {
        Checked.Positive(transfer_W_m2K, nameof(transfer_W_m2K));
        Checked.Positive(modulus_m, nameof(modulus_m));
        Checked.Positive(excess_C, nameof(excess_C));
        return transfer_W_m2K * excess_C / modulus_m;
    }

    /// <summary>Temperature along a channel that runs full, °C, sensible heat only: T₀ + (T − T₀) exp(−h x / (ρ c v M)).</summary>
    /// <param name="entry_C">T, where the metal enters.</param>
    /// <param name="mould_C">T₀.</param>
    /// <param name="way_m">x.</param>
    /// <param name="transfer_W_m2K">h.</param>
    /// <param name="heat_J_m3K">ρ c.</param>
    /// <param name="speed_m_s">v.</param>
    /// <param name="modulus_m">M.</param>
    /// <exception cref="ArgumentOutOfRangeException">The way is below 0, or what it is over is not positive.</exception>
    public static double Temperature_C(double entry_C, double mould_C, double way_m, double transfer_W_m2K, double heat_J_m3K, double speed_m_s, double modulus_m)
    {
        Checked.Within(way_m, 0, double.MaxValue, nameof(way_m));
        Checked.Positive(heat_J_m3K * speed_m_s * modulus_m, nameof(speed_m_s));
        return mould_C + ((entry_C - mould_C) * Math.Exp(-transfer_W_m2K * way_m / (heat_J_m3K * speed_m_s * modulus_m)));
    }

    /// <summary>Head that drives a liquid which does not wet the sand into a slot, mm: 2 γ / (ρ g d).</summary>
    /// <param name="surfaceTension_N_m">γ.</param>
    /// <param name="density_kg_m3">ρ.</param>
    /// <param name="width_mm">d.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double EntryHead_mm(double surfaceTension_N_m, double density_kg_m3, double width_mm)
    {
        Checked.Positive(surfaceTension_N_m, nameof(surfaceTension_N_m));
        Checked.Positive(density_kg_m3, nameof(density_kg_m3));
        Checked.Positive(width_mm, nameof(width_mm));
        return 2 * surfaceTension_N_m / (density_kg_m3 * Flow.Gravity_mm_s2 * 1e-3 * width_mm * 1e-3) * 1000;
    }

    /// <summary>
    /// Height at which a liquid that does not wet the sand runs along a level floor, mm: 2 √(γ / (ρ g)), that of a wide puddle (de Gennes, Brochard-Wyart and Quéré, Capillarity and Wetting Phenomena,
    /// 2004, ch. 2, from memory). A flat space that is lower fills over its whole height from its entry on.
    /// </summary>
    /// <param name="surfaceTension_N_m">γ.</param>
    /// <param name="density_kg_m3">ρ.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double FrontHeight_mm(double surfaceTension_N_m, double density_kg_m3)
    {
        Checked.Positive(surfaceTension_N_m, nameof(surfaceTension_N_m));
        Checked.Positive(density_kg_m3, nameof(density_kg_m3));
        return 2 * Math.Sqrt(surfaceTension_N_m / (density_kg_m3 * Flow.Gravity_mm_s2 * 1e-3)) * 1000;
    }

    /// <summary>How much the surface of a stream falls along its way, rise over length: f v² / (2 g D), D twice the thickness of a wide wall (Darcy and Weisbach).</summary>
    /// <param name="friction">f: velocity heads lost for each hydraulic diameter of length.</param>
    /// <param name="speed_m_s">v.</param>
    /// <param name="wall_mm">Thickness.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double Slope(double friction, double speed_m_s, double wall_mm)
    {
        Checked.Positive(speed_m_s, nameof(speed_m_s));
        Checked.Positive(wall_mm, nameof(wall_mm));
        return friction * speed_m_s * speed_m_s * 1e6 / (2 * Flow.Gravity_mm_s2 * 2 * wall_mm);
    }
}
