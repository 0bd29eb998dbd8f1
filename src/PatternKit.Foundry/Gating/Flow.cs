namespace PatternKit.Foundry;

/// <summary>Metal that runs by its own weight: speeds, rates and the areas that they need. Torricelli's law and continuity.</summary>
public static class Flow
{
    /// <summary>Standard gravity, mm/s² (CGPM 1901, rounded as in the textbooks' examples).</summary>
    public const double Gravity_mm_s2 = 9810;

    /// <summary>Speed after a free fall, √(v₀² + 2gh), mm/s.</summary>
    /// <param name="head_mm">Height of the fall.</param>
    /// <param name="start_mm_s">Speed at its upper end.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no fall: the head is below 0, or no number.</exception>
    public static double Speed_mm_s(double head_mm, double start_mm_s = 0)
    {
        Checked.Within(head_mm, 0, double.MaxValue, nameof(head_mm));
        return Math.Sqrt((start_mm_s * start_mm_s) + (2 * Gravity_mm_s2 * head_mm));
    }

    /// <summary>The choke that lets a mass through in a time: A = W / (ρ t C √(2gH)), mm².</summary>
    /// <param name="mass_kg">W.</param>
    /// <param name="density_kg_m3">ρ of the liquid.</param>
    /// <param name="time_s">t.</param>
    /// <param name="discharge">C.</param>
    /// <param name="effectiveHead_mm">H.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double Choke_mm2(double mass_kg, double density_kg_m3, double time_s, double discharge, double effectiveHead_mm)
    {
        Checked.Positive(mass_kg, nameof(mass_kg));
        Checked.Positive(density_kg_m3, nameof(density_kg_m3));
        Checked.Positive(time_s, nameof(time_s));
        Checked.Within(discharge, 0.01, 1, nameof(discharge));
        Checked.Positive(effectiveHead_mm, nameof(effectiveHead_mm));
        return mass_kg / (density_kg_m3 * 1e-9 * time_s * discharge * Speed_mm_s(effectiveHead_mm));
    }

    /// <summary>
    /// Area at the top of a sprue that stays full: A_top = A_base √(h_base / h_top), heads measured from the metal level in the basin.
    /// A stream thins as it falls; a sprue that does not draws air in.
    /// </summary>
    /// <param name="base_mm2">Area at the lower end.</param>
    /// <param name="headAtTop_mm">Depth of the top below the level in the basin.</param>
    /// <param name="headAtBase_mm">Depth of the base below it, not less.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not positive, or the base is above the top.</exception>
    public static double SprueTop_mm2(double base_mm2, double headAtTop_mm, double headAtBase_mm)
    {
        Checked.Positive(base_mm2, nameof(base_mm2));
        Checked.Positive(headAtTop_mm, nameof(headAtTop_mm));
        Checked.Within(headAtBase_mm, headAtTop_mm, double.MaxValue, nameof(headAtBase_mm));
        return base_mm2 * Math.Sqrt(headAtBase_mm / headAtTop_mm);
    }

    /// <summary>Diameter of the circle of an area, mm.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The area is below 0, or no number.</exception>
    public static double Diameter_mm(double area_mm2)
    {
        Checked.Within(area_mm2, 0, double.MaxValue, nameof(area_mm2));
        return Math.Sqrt(4 * area_mm2 / Math.PI);
    }

    /// <summary>Area of the circle of a diameter, mm².</summary>
    /// <exception cref="ArgumentOutOfRangeException">The diameter is below 0, or no number.</exception>
    public static double Circle_mm2(double diameter_mm)
    {
        Checked.Within(diameter_mm, 0, double.MaxValue, nameof(diameter_mm));
        return Math.PI * diameter_mm * diameter_mm / 4;
    }
}
