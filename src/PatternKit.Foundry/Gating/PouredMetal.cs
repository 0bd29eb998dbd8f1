namespace PatternKit.Foundry;

/// <summary>Metal for one mould, kg.</summary>
/// <param name="Casting_kg">The raw casting.</param>
/// <param name="Gating_kg">What freezes in sprue, basin, well, runner and ingates.</param>
/// <param name="Melt_kg">To melt: what is poured, and what is lost in melting and left in the ladle.</param>
/// <param name="Source">Of the losses.</param>
/// <param name="Rule">How the melt was found.</param>
public sealed record PouredMetal(double Casting_kg, double Gating_kg, double Melt_kg, string Source, string Rule)
{
    /// <summary>What fills the mould.</summary>
    public double Poured_kg => Casting_kg + Gating_kg;

    /// <summary>Casting over what is poured.</summary>
    public double Yield => Casting_kg / Poured_kg;

    /// <summary>The metal for a casting and its gating.</summary>
    /// <param name="casting_kg">The raw casting.</param>
    /// <param name="gating_mm3">Volume of all bars.</param>
    /// <param name="alloy">For the density of the solid, as a balance weighs it.</param>
    /// <param name="tables">Losses.</param>
    public static PouredMetal Of(double casting_kg, double gating_mm3, Alloy alloy, GatingTables tables)
    {
        var gating = gating_mm3 * 1e-9 * alloy.Density_kg_m3.Value;
        var (loss, heel) = (tables.MeltLoss_percent, tables.Heel_percent);
        return new(
            casting_kg, gating, (casting_kg + gating) * (1 + ((loss.Value + heel.Value) / 100)), loss.From.Text,
            $"poured + {Shown.Number(loss.Value)} % lost in melting + {Shown.Number(heel.Value)} % left in the ladle");
    }
}
