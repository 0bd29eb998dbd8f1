namespace PatternKit.Foundry;

/// <summary>How a body's surface bends, which speeds up what the sand takes.</summary>
public enum BodyShape
{
    /// <summary>A wall.</summary>
    Plate,

    /// <summary>A long round bar.</summary>
    RoundBar,

    /// <summary>A ball.</summary>
    Sphere,
}

/// <summary>
/// Freezing in a sand mould that takes all the heat it can: metal at one temperature against sand without end (Chvorinov 1940). The resistance between metal and sand is
/// left out, so that thin walls freeze later than reckoned. Absolute times are good to about a third; one pour calibrates them.
/// </summary>
public static class MouldConstant
{
    private const double PerSquareMillimetre = 1e-6;

    /// <summary>Where the relation comes from.</summary>
    public const string Source = "Chvorinov's rule, mould constant from metal and sand";

    /// <summary>B of t = B M², s/mm²: (π/4) (heat / (T − T₀))² / (k ρ c).</summary>
    /// <param name="heat_J_m3">Heat until all is solid, superheat included.</param>
    /// <param name="excess_C">T − T₀: freezing temperature over that of the sand.</param>
    /// <param name="conductivity_W_mK">k of the sand.</param>
    /// <param name="density_kg_m3">ρ of the sand.</param>
    /// <param name="specificHeat_J_kgK">c of the sand.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double Of(double heat_J_m3, double excess_C, double conductivity_W_mK, double density_kg_m3, double specificHeat_J_kgK)
    {
        Checked.Positive(heat_J_m3, nameof(heat_J_m3));
        Checked.Positive(excess_C, nameof(excess_C));
        Checked.Positive(conductivity_W_mK * density_kg_m3 * specificHeat_J_kgK, nameof(conductivity_W_mK));
        var ratio = heat_J_m3 / excess_C;
        return Math.PI / 4 * ratio * ratio / (conductivity_W_mK * density_kg_m3 * specificHeat_J_kgK) * PerSquareMillimetre;
    }

    /// <summary>The constant of a metal, poured at a temperature, in a sand, s/mm².</summary>
    public static double Of(MetalHeat metal, double pouring_C, Sand sand) => Of(
        metal.UntilSolid_J_m3(pouring_C), metal.FreezesAt_C - metal.Mould_C, sand.Conductivity_W_mK.Value, sand.Density_kg_m3.Value, sand.SpecificHeat_J_kgK.Value);

    /// <summary>Freezing time of a section, s: t = B M².</summary>
    /// <param name="constant_s_mm2">B.</param>
    /// <param name="modulus_mm">M.</param>
    public static double Time_s(double constant_s_mm2, double modulus_mm) => constant_s_mm2 * modulus_mm * modulus_mm;

    /// <summary>
    /// Freezing time with the shape term, s: heat · M / (T − T₀) = 2 b √(t/π) + n k t / (2 R), b = √(kρc), n = 0, 1, 2 for plate, round bar and sphere, R = M (n + 1).
    /// Exact for plate and sphere; of a round bar about 1 % short.
    /// </summary>
    /// <param name="shape">Of the body.</param>
    /// <param name="modulus_m">M.</param>
    /// <param name="heat_J_m3">Heat until all is solid.</param>
    /// <param name="excess_C">T − T₀.</param>
    /// <param name="conductivity_W_mK">k of the sand.</param>
    /// <param name="density_kg_m3">ρ of the sand.</param>
    /// <param name="specificHeat_J_kgK">c of the sand.</param>
    public static double Time_s(BodyShape shape, double modulus_m, double heat_J_m3, double excess_C, double conductivity_W_mK, double density_kg_m3, double specificHeat_J_kgK)
    {
        var n = (int)shape;
        var wanted = heat_J_m3 * modulus_m / excess_C;
        // A quadratic in the root of the time: a t + b √t = wanted.
        var a = n * conductivity_W_mK / (2 * modulus_m * (n + 1));
        var b = 2 * Math.Sqrt(conductivity_W_mK * density_kg_m3 * specificHeat_J_kgK / Math.PI);
        var root = 2 * wanted / (b + Math.Sqrt((b * b) + (4 * a * wanted)));
        return root * root;
    }
}
