namespace PatternKit.Foundry;

/// <summary>What a core weighs, how the metal lifts it, and how hard its prints press on the sand. Newton, millimetres, kilopascal.</summary>
public static class CoreForces
{
    /// <summary>Standard gravity, as everywhere in the tables' examples, m/s².</summary>
    public const double Gravity_m_s2 = Flow.Gravity_mm_s2 / 1000;

    /// <summary>Weight of a volume: V ρ g.</summary>
    /// <param name="volume_mm3">V.</param>
    /// <param name="density_kg_m3">ρ.</param>
    /// <exception cref="ArgumentOutOfRangeException">The volume is below 0, or no number.</exception>
    public static double Weight_N(double volume_mm3, double density_kg_m3)
    {
        Checked.Within(volume_mm3, 0, double.MaxValue, nameof(volume_mm3));
        return volume_mm3 * 1e-9 * density_kg_m3 * Gravity_m_s2;
    }

    /// <summary>Net lift of a core by the metal around it: V (ρ metal − ρ core) g (Groover). What of the core lies in its prints displaces no metal and is not counted.</summary>
    /// <param name="displaced_mm3">V, of what lies in the metal.</param>
    /// <param name="metal_kg_m3">Density of the liquid.</param>
    /// <param name="core_kg_m3">Density of the core.</param>
    /// <returns>Newton; below 0 where the core is heavier.</returns>
    public static double Lift_N(double displaced_mm3, double metal_kg_m3, double core_kg_m3) => Weight_N(displaced_mm3, metal_kg_m3 - core_kg_m3);

    /// <summary>Volume of a core that a given lift belongs to, mm³: the same law solved for V.</summary>
    /// <param name="lift_N">Net lift.</param>
    /// <param name="metal_kg_m3">Density of the liquid.</param>
    /// <param name="core_kg_m3">Density of the core, below that of the metal.</param>
    /// <exception cref="ArgumentOutOfRangeException">The core is not lighter than the metal, or is not lifted.</exception>
    public static double Displaced_mm3(double lift_N, double metal_kg_m3, double core_kg_m3)
    {
        Checked.Positive(metal_kg_m3 - core_kg_m3, nameof(core_kg_m3));
        Checked.Within(lift_N, 0, double.MaxValue, nameof(lift_N));
        return lift_N / Weight_N(1, metal_kg_m3 - core_kg_m3);
    }

    /// <summary>How a load is shared by two bearings: by the lever.</summary>
    /// <param name="load_N">The load, between them or beyond.</param>
    /// <param name="along_mm">From the first bearing to the load.</param>
    /// <param name="span_mm">From the first bearing to the second, not 0.</param>
    public static (double First_N, double Second_N) Shared(double load_N, double along_mm, double span_mm)
    {
        var second = load_N * along_mm / span_mm;
        return (load_N - second, second);
    }

    /// <summary>
    /// Largest pressure of a stiff print in its seat, kPa: F / (w l) · (1 + 6 e / l), the load off the middle being borne linearly by both halves of
    /// the mould (Navier's law of bending).
    /// </summary>
    /// <param name="load_N">F.</param>
    /// <param name="width_mm">w, across the print.</param>
    /// <param name="length_mm">l, along it.</param>
    /// <param name="off_mm">e, from the middle of the print to the load, along it.</param>
    public static double Pressure_kPa(double load_N, double width_mm, double length_mm, double off_mm)
    {
        Checked.Positive(width_mm, nameof(width_mm));
        Checked.Positive(length_mm, nameof(length_mm));
        return load_N / (width_mm * length_mm) * (1 + (6 * off_mm / length_mm)) * 1000;
    }

    /// <summary>Area that bears a load, mm².</summary>
    /// <param name="load_N">The load.</param>
    /// <param name="bearing_kPa">What the sand bears.</param>
    /// <exception cref="ArgumentOutOfRangeException">The load is below 0, or the sand bears nothing.</exception>
    public static double Area_mm2(double load_N, double bearing_kPa)
    {
        Checked.Within(load_N, 0, double.MaxValue, nameof(load_N));
        Checked.Positive(bearing_kPa, nameof(bearing_kPa));
        return load_N / bearing_kPa * 1000;
    }
}
