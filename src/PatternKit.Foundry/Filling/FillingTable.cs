using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A heat transfer coefficient with the range that is to be told with it, W/m²K.</summary>
/// <param name="Value_W_m2K">The value reckoned with.</param>
/// <param name="Low_W_m2K">Lower end of its range.</param>
/// <param name="High_W_m2K">Upper end.</param>
/// <param name="From">Where it comes from.</param>
public sealed record HeatTransfer(double Value_W_m2K, double Low_W_m2K, double High_W_m2K, Provenance From);

/// <summary>From where a ratio is doubtful, and from where high.</summary>
/// <param name="Doubtful">Lower limit.</param>
/// <param name="High">Upper limit.</param>
/// <param name="From">Where they come from.</param>
public sealed record RiskLimits(double Doubtful, double High, Provenance From);

/// <summary>Temperature above the liquidus.</summary>
/// <param name="Low_C">From.</param>
/// <param name="High_C">To.</param>
/// <param name="From">Where it comes from.</param>
public sealed record Superheat(double Low_C, double High_C, Provenance From);

/// <summary>What the check of filling and freezing is reckoned with.</summary>
/// <param name="FrontHeat">At the tip of the stream, on fresh sand.</param>
/// <param name="ChannelHeat">Behind it.</param>
/// <param name="Stopping">Solid part at which the tip stops, 0 to 1.</param>
/// <param name="Risk">Limits of the ratios.</param>
/// <param name="OpenShare">Part of its freezing time within which a thin way must have passed on its metal.</param>
/// <param name="FreezingTime_percent">How far off a reckoned freezing time may be, either way.</param>
/// <param name="OxideSkin_times">Head that a skin of oxide asks for in narrow places, over that of the surface tension alone.</param>
/// <param name="MixingWall_mm">Walls from here up mix what rises in them.</param>
/// <param name="Friction">Along runners: velocity heads lost for each hydraulic diameter of length.</param>
/// <param name="GateBend_heads">Velocity heads lost into an ingate.</param>
/// <param name="ThickWall_mm">Mean wall from which the pouring range for thick walls holds.</param>
/// <param name="SuperheatThin">Where an alloy has no pouring range, for thin walls.</param>
/// <param name="SuperheatThick">The same for thick walls.</param>
/// <param name="Mould_C">Temperature of the mould.</param>
/// <param name="FreezesAt">Part of the freezing range above the solidus at which an alloy may be taken to freeze.</param>
/// <param name="Constants">Mould constants that sources give; the first that fits is taken.</param>
/// <param name="FillTimeAgrees_percent">By how much the time of the filling may differ from that of the choke before it is told.</param>
/// <param name="Prominence">Freezing time of a hot spot over that of the neck to a later one, at least.</param>
public sealed record FillingTable(
    HeatTransfer FrontHeat,
    HeatTransfer ChannelHeat,
    ImmutableArray<FreezingRow> Stopping,
    RiskLimits Risk,
    Quoted OpenShare,
    Quoted FreezingTime_percent,
    Quoted OxideSkin_times,
    Quoted MixingWall_mm,
    Quoted Friction,
    Quoted GateBend_heads,
    Quoted ThickWall_mm,
    Superheat SuperheatThin,
    Superheat SuperheatThick,
    Quoted Mould_C,
    Quoted FreezesAt,
    ImmutableArray<MouldConstantRow> Constants,
    Quoted FillTimeAgrees_percent,
    Quoted Prominence)
{
    internal static FillingTable Read(RowReader file)
    {
        var table = new FillingTable(
            Transfer(file.Row("front_heat")),
            Transfer(file.Row("channel_heat")),
            FreezingRow.Read(file, "stopping", "fraction", 0.01, 1),
            Limits(file.Row("risk")),
            file.Row("open_share").Quoted("fraction", 0.05, 1),
            file.Row("freezing_time").Quoted("percent", 0, 80),
            file.Row("oxide_skin").Quoted("times", 1, 10),
            file.Row("mixing_wall").Quoted("mm", 1, 100),
            file.Row("friction").Quoted("factor", 0, 1),
            file.Row("gate_bend").Quoted("heads", 0, 10),
            file.Row("thick_wall").Quoted("mm", 1, 200),
            SuperheatOf(file.Row("superheat_thin")),
            SuperheatOf(file.Row("superheat_thick")),
            file.Row("mould").Quoted("C", -40, 400),
            file.Row("freezes_at").Quoted("fraction", 0, 1),
            [.. file.Rows("mould_constant").Select(MouldConstantRow.Read)],
            file.Row("fill_time").Quoted("agrees_percent", 0.1, 100),
            file.Row("hot_spot").Quoted("prominence", 1, 5));
        file.Finish();
        return table;
    }

    /// <summary>The solid part at which the tip of an alloy's stream stops.</summary>
    /// <param name="alloy">Its freezing range must be known.</param>
    public FreezingRow StoppingOf(Alloy alloy) => FreezingRow.For(Stopping, alloy, alloy.Freezing!);

    private static HeatTransfer Transfer(RowReader r)
    {
        var transfer = new HeatTransfer(r.Number("W_m2K", 10, 20000), r.Number("low", 10, 20000), r.Number("high", 10, 20000), r.Provenance());
        r.Finish();
        return transfer.Low_W_m2K <= transfer.Value_W_m2K && transfer.Value_W_m2K <= transfer.High_W_m2K ? transfer : throw r.Error("'W_m2K' lies outside 'low' and 'high'.");
    }

    private static RiskLimits Limits(RowReader r)
    {
        var limits = new RiskLimits(r.Number("doubtful", 0.01, 10), r.Number("high", 0.01, 10), r.Provenance());
        r.Finish();
        return limits.Doubtful <= limits.High ? limits : throw r.Error("'doubtful' is above 'high'.");
    }

    private static Superheat SuperheatOf(RowReader r)
    {
        var superheat = new Superheat(r.Number("low_C", 0, 1000), r.Number("high_C", 0, 1000), r.Provenance());
        r.Finish();
        return superheat.Low_C <= superheat.High_C ? superheat : throw r.Error("'low_C' is above 'high_C'.");
    }
}
