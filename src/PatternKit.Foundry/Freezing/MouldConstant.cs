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

    /// <summary>The constant to reckon with, s/mm²: the shop's own, else that of a source, else from metal and sand.</summary>
    /// <param name="alloy">The metal.</param>
    /// <param name="sand">The sand.</param>
    /// <param name="metal">Its heat.</param>
    /// <param name="pouring_C">Temperature that it is poured at.</param>
    /// <param name="tables">What sources and the shop give.</param>
    public static Sourced<double> For(Alloy alloy, Sand sand, MetalHeat metal, double pouring_C, FoundryTables tables)
    {
        var reckoned = Of(metal, pouring_C, sand);
        string Instead() => FormattableString.Invariant($"{alloy.Title} in {sand.Title}; {reckoned:0.00} s/mm² would be reckoned from metal and sand");
        if (tables.Workshop.Constants.FirstOrDefault(c => c.Alloy == alloy.Key && c.Sand == sand.Key) is { } own) return new(own.Constant_s_mm2, own.From.Text, $"measured: {Instead()}");
        if (tables.Filling.Constants.FirstOrDefault(r => r.Fits(alloy, sand)) is { } row) return new(row.Constant_s_mm2, row.From.Text, $"as its source gives it: {Instead()}");
        return new(reckoned, Source, FormattableString.Invariant(
            $"B = (π/4) (heat / (T − T₀))² / (kρc), heat until solid from {pouring_C:0} °C, T {metal.FreezesAt_C:0} °C: {tables.Filling.FreezesAt.Value:0.##} of the range above the solidus ({tables.Filling.FreezesAt.From.Text}); {sand.Title}. No source gives one for it, and none was measured ([[mould_constant]] of shop.toml)"));
    }

    /// <summary>Freezing time of a section, s: t = B M².</summary>
    /// <param name="constant_s_mm2">B.</param>
    /// <param name="modulus_mm">M.</param>
    /// <exception cref="ArgumentOutOfRangeException">The constant is not positive, or the modulus below 0.</exception>
    public static double Time_s(double constant_s_mm2, double modulus_mm)
    {
        Checked.Positive(constant_s_mm2, nameof(constant_s_mm2));
        Checked.Within(modulus_mm, 0, double.MaxValue, nameof(modulus_mm));
        return constant_s_mm2 * modulus_mm * modulus_mm;
    }

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
    /// <exception cref="ArgumentOutOfRangeException">An argument is not a positive number.</exception>
    public static double Time_s(BodyShape shape, double modulus_m, double heat_J_m3, double excess_C, double conductivity_W_mK, double density_kg_m3, double specificHeat_J_kgK)
    {
        Checked.Positive(modulus_m, nameof(modulus_m));
        Checked.Positive(heat_J_m3, nameof(heat_J_m3));
        Checked.Positive(excess_C, nameof(excess_C));
        Checked.Positive(conductivity_W_mK * density_kg_m3 * specificHeat_J_kgK, nameof(conductivity_W_mK));
        var n = (int)shape;
        var wanted = heat_J_m3 * modulus_m / excess_C;
        // A quadratic in the root of the time: a t + b √t = wanted.
        var a = n * conductivity_W_mK / (2 * modulus_m * (n + 1));
        var b = 2 * Math.Sqrt(conductivity_W_mK * density_kg_m3 * specificHeat_J_kgK / Math.PI);
        var root = 2 * wanted / (b + Math.Sqrt((b * b) + (4 * a * wanted)));
        return root * root;
    }
}
