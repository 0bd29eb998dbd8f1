namespace PatternKit.Foundry;

/// <summary>Pouring temperatures into sand.</summary>
/// <param name="ThinLow_C">For thin walls, from.</param>
/// <param name="ThinHigh_C">For thin walls, to.</param>
/// <param name="ThickLow_C">For thick walls, from.</param>
/// <param name="ThickHigh_C">For thick walls, to.</param>
/// <param name="From">Where they come from.</param>
public sealed record PouringRange(double ThinLow_C, double ThinHigh_C, double ThickLow_C, double ThickHigh_C, Provenance From);

/// <summary>What a metal carries into the mould and how it behaves there; each value null where no figure is known.</summary>
/// <param name="Latent_kJ_kg">Latent heat.</param>
/// <param name="SpecificHeat_J_kgK">Of the solid.</param>
/// <param name="LiquidSpecificHeat_J_kgK">Of the liquid.</param>
/// <param name="Conductivity_W_mK">Of the solid.</param>
/// <param name="FreezingShrinkage_percent">Volume lost from liquid to solid, % of the liquid; below 0 where the metal expands.</param>
/// <param name="SurfaceTension_N_m">Of the liquid.</param>
/// <param name="Pouring">Pouring temperatures.</param>
public sealed record AlloyHeat(
    Quoted? Latent_kJ_kg = null,
    Quoted? SpecificHeat_J_kgK = null,
    Quoted? LiquidSpecificHeat_J_kgK = null,
    Quoted? Conductivity_W_mK = null,
    Quoted? FreezingShrinkage_percent = null,
    Quoted? SurfaceTension_N_m = null,
    PouringRange? Pouring = null);
