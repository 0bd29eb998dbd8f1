namespace PatternKit.Foundry;

/// <summary>A piece of iron set against a section in the sand, which takes what heat the sand does not take in time.</summary>
/// <param name="Face_mm">Edge of its square face: as wide as the section is thick.</param>
/// <param name="Thick_mm">Its thickness.</param>
/// <param name="Mass_kg">Of all of it.</param>
/// <param name="Target_mm">The modulus that the section then freezes like.</param>
public sealed record Chill(double Face_mm, double Thick_mm, double Mass_kg, double Target_mm)
{
    /// <summary>What it is reckoned by.</summary>
    public const string Rule = "m = V H (1 − M′/M) / (c ΔT): the heat that sand takes in a time grows with its root (Chvorinov), so that in the freezing time of M′ it takes M′/M of the whole";

    /// <summary>A chill that brings a section down to another modulus.</summary>
    /// <param name="section_mm">M, modulus of the section.</param>
    /// <param name="target_mm">M′, less than that.</param>
    /// <param name="across_mm">Largest ball in the section.</param>
    /// <param name="volume_mm3">V, metal of the section.</param>
    /// <param name="heat_J_m3">H, heat of the metal until it is solid, superheat included.</param>
    /// <param name="table">c and ΔT, the density of the chill, and the least of its thickness.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive, or the target is no less than the section.</exception>
    public static Chill For(double section_mm, double target_mm, double across_mm, double volume_mm3, double heat_J_m3, ChillRow table)
    {
        Checked.Positive(target_mm, nameof(target_mm));
        Checked.Positive(across_mm, nameof(across_mm));
        Checked.Positive(volume_mm3, nameof(volume_mm3));
        Checked.Positive(heat_J_m3, nameof(heat_J_m3));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(target_mm, section_mm);
        var mass = volume_mm3 * 1e-9 * heat_J_m3 * (1 - (target_mm / section_mm)) / (table.Heat_J_kgK * table.Rise_C);
        var (face_mm2, density_kg_mm3) = (across_mm * across_mm, table.Density_kg_m3 * 1e-9);
        var thick_mm = Math.Max(table.Least_mm.Value, mass / density_kg_mm3 / face_mm2);
        return new(across_mm, thick_mm, thick_mm * face_mm2 * density_kg_mm3, target_mm);
    }
}

/// <summary>What chills are reckoned with.</summary>
/// <param name="Heat_J_kgK">Specific heat.</param>
/// <param name="Rise_C">How much warmer a chill gets.</param>
/// <param name="Density_kg_m3">Its density.</param>
/// <param name="Least_mm">No chill is thinner.</param>
/// <param name="From">Where the others come from.</param>
public sealed record ChillRow(double Heat_J_kgK, double Rise_C, double Density_kg_m3, Quoted Least_mm, Provenance From);

/// <summary>How much a wall has to taper so that it freezes towards a feeder or a gate.</summary>
public static class FeedingTaper
{
    /// <summary>
    /// Thickness that a wall needs where it is fed, so that over each feeding distance of it the modulus grows by the step between section and neck. Steps compound: s = t (1 + g)^(L / D).
    /// </summary>
    /// <param name="wall_mm">t, its thickness at the far end.</param>
    /// <param name="length_mm">L, of what tapers.</param>
    /// <param name="feeds_mm">D, feeding distance of a wall that does not.</param>
    /// <param name="step">1 + g.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive, or the step below 1.</exception>
    public static double Root_mm(double wall_mm, double length_mm, double feeds_mm, double step)
    {
        Checked.Positive(wall_mm, nameof(wall_mm));
        Checked.Positive(length_mm, nameof(length_mm));
        Checked.Positive(feeds_mm, nameof(feeds_mm));
        Checked.Within(step, 1, 3, nameof(step));
        return wall_mm * Math.Pow(step, length_mm / feeds_mm);
    }
}
