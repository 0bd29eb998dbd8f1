namespace PatternKit.Foundry;

/// <summary>What holds the sand together; the casting-tolerance standards make this distinction.</summary>
public enum SandBond
{
    /// <summary>Clay, with water or oil, hardened by ramming only.</summary>
    Clay,

    /// <summary>A resin, oil or salt that hardens by reaction or heat.</summary>
    Chemical,
}

/// <summary>A moulding sand as the tables know it, rammed.</summary>
/// <param name="Key">The name that jobs use.</param>
/// <param name="Title">The name that reports print.</param>
/// <param name="Bond">What holds it together.</param>
/// <param name="Density_kg_m3">Rammed.</param>
/// <param name="Conductivity_W_mK">Thermal conductivity.</param>
/// <param name="SpecificHeat_J_kgK">Specific heat.</param>
/// <param name="StandingLimit">Highest sand standing in the drag, as a multiple of its least width.</param>
/// <param name="HangingLimit">Deepest sand hanging in the cope, as a multiple of its least width.</param>
/// <param name="Strength_kPa">Compression strength as it stands in the mould before pouring; null where no figure is known.</param>
public sealed record Sand(
    string Key,
    string Title,
    SandBond Bond,
    Quoted Density_kg_m3,
    Quoted Conductivity_W_mK,
    Quoted SpecificHeat_J_kgK,
    Quoted StandingLimit,
    Quoted HangingLimit,
    Quoted? Strength_kPa = null);
