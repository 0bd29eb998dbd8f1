namespace PatternKit.Foundry;

/// <summary>
/// What a metal can give to the mould, in SI units of volume. Properties are constant: that of the liquid above the liquidus, that of the solid below.
/// </summary>
/// <param name="Density_kg_m3">Of the liquid.</param>
/// <param name="Liquid_J_kgK">Specific heat of the liquid.</param>
/// <param name="Solid_J_kgK">Specific heat of the solid.</param>
/// <param name="Latent_J_kg">Latent heat.</param>
/// <param name="Liquidus_C">Where freezing begins.</param>
/// <param name="Solidus_C">Where it ends.</param>
/// <param name="StoppingFraction">Solid part at which the tip of a stream stops.</param>
/// <param name="Mould_C">Temperature of the sand before it meets the metal.</param>
/// <param name="FreezesAt">Part of its freezing range above the solidus at which an alloy that freezes over a range may be taken to freeze.</param>
public sealed record MetalHeat(
    double Density_kg_m3, double Liquid_J_kgK, double Solid_J_kgK, double Latent_J_kg, double Liquidus_C, double Solidus_C, double StoppingFraction, double Mould_C,
    double FreezesAt)
{
    /// <summary>The heat of an alloy; null where its latent heat, its specific heat or its freezing range is not known.</summary>
    /// <param name="alloy">The metal.</param>
    /// <param name="table">Where its tip stops, and how warm the mould is.</param>
    public static MetalHeat? Of(Alloy alloy, FillingTable table)
    {
        var heat = alloy.Heat;
        if (alloy.Freezing is not { } freezing || heat.Latent_kJ_kg is not { } latent || heat.SpecificHeat_J_kgK is not { } solid) return null;
        return new(
            (alloy.LiquidDensity_kg_m3 ?? alloy.Density_kg_m3).Value, (heat.LiquidSpecificHeat_J_kgK ?? solid).Value, solid.Value, 1000 * latent.Value,
            freezing.Liquidus_C, freezing.Solidus_C, table.StoppingOf(alloy).Value, table.Mould_C.Value, table.FreezesAt.Value);
    }

    /// <summary>Heat that the tip of a stream can lose before it stops, J/m³: ρ (c ΔT + f L).</summary>
    /// <param name="from_C">Temperature that it sets out with.</param>
    public double UntilTipStops_J_m3(double from_C) => Density_kg_m3 * ((Liquid_J_kgK * (from_C - Liquidus_C)) + (StoppingFraction * Latent_J_kg));

    /// <summary>Heat until all is solid, J/m³: ρ (c ΔT + L + c′ (T_liquidus − T_solidus)).</summary>
    /// <param name="from_C">Temperature that it sets out with.</param>
    public double UntilSolid_J_m3(double from_C) =>
        Density_kg_m3 * ((Liquid_J_kgK * (from_C - Liquidus_C)) + Latent_J_kg + (Solid_J_kgK * (Liquidus_C - Solidus_C)));

    /// <summary>Temperature at which it may be taken to freeze.</summary>
    public double FreezesAt_C => Solidus_C + ((Liquidus_C - Solidus_C) * FreezesAt);
}
