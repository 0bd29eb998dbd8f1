using PatternKit.Foundry;

namespace PatternKit.Patterns.Filling;

/// <summary>The metal, its sand and how it is poured: what a place's ratios are reckoned from.</summary>
/// <param name="Metal">Heat of the metal.</param>
/// <param name="Sand">The sand.</param>
/// <param name="Pouring_C">Temperature of the metal as it enters.</param>
/// <param name="SurfaceTension_N_m">Of the liquid; null where it is not known.</param>
/// <param name="Constant">B of t = B M², s/mm², as the job is poured.</param>
/// <param name="Table">Heat transfer, limits.</param>
internal sealed record StreamHeat(MetalHeat Metal, Sand Sand, double Pouring_C, double? SurfaceTension_N_m, Sourced<double> Constant, FillingTable Table)
{
    /// <summary>B, s/mm².</summary>
    public double Constant_s_mm2 => Constant.Value;

    /// <summary>
    /// Heat that the tip has lost over what it can lose before it stops. All along it is as much hotter than the sand as the liquidus: the spiral that the
    /// heat transfer was calibrated on was reckoned so.
    /// </summary>
    /// <param name="channel_s_mm">Time over modulus spent in ways that the metal behind keeps warm.</param>
    /// <param name="front_s_mm">The same at the tip, on fresh sand.</param>
    /// <param name="transfer">Which value of the heat transfer is taken, of the way as of the tip.</param>
    public double Front(double channel_s_mm, double front_s_mm, Func<HeatTransfer, double> transfer)
    {
        const double PerMetre = 1000;
        var lost = ((channel_s_mm * transfer(Table.ChannelHeat)) + (front_s_mm * transfer(Table.FrontHeat))) * PerMetre * (Metal.Liquidus_C - Metal.Mould_C);
        return lost / Metal.UntilTipStops_J_m3(Pouring_C);
    }

    /// <summary>Time that a way has to stay open over the part of its freezing time that counts.</summary>
    public double Choked(double open_s, double wall_mm) => open_s / (Table.OpenShare.Value * MouldConstant.Time_s(Constant_s_mm2, Modulus.Wall(wall_mm)));

    /// <summary>Head that a wall asks for over that which is there.</summary>
    public double Head(double wall_mm, double head_mm) =>
        SurfaceTension_N_m is { } tension ? MetalStream.EntryHead_mm(tension, Metal.Density_kg_m3, wall_mm) / Math.Max(head_mm, 1e-3) : 0;
}
