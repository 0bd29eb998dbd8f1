using PatternKit.Foundry;
using PatternKit.Patterns.Filling;

namespace PatternKit.Sheets.Texts;

/// <summary>How the mould fills, line by line; the sheet, kit.json and the command line print the same lines.</summary>
public static class FillingLines
{
    /// <summary>All figures that are not those of single places.</summary>
    public static IEnumerable<ReckonedLine> Of(FillingPlan filling)
    {
        var (pour, table) = (filling.Pour, filling.Table);
        yield return ReckonedLine.Of("pour_temperature_C", "Pouring temperature", "°C", pour.Taken_C);
        yield return ReckonedLine.Of("highest_pour_temperature_C", "Hottest that the range allows", "°C", pour.Highest_C);
        yield return new("fill_time_s", "Fills in, by the casting’s own level sections", filling.FillTime_s, "s", "Bernoulli’s law through the choke, against the level over the ingates", "Torricelli’s law, integrated over the height of the mould");
        yield return new("thinnest_wall_mm", "Thinnest wall, as cast", filling.ThinnestWall_mm, "mm", "largest ball that covers the place", "Hildebrand and Rüegsegger 1997");
        yield return new("farthest_way_mm", "Farthest way from an ingate, in the mould", filling.FarthestWay_mm, "mm", "", "");
        yield return new("front_heat_W_m2K", "Heat transfer at the tip of the stream", table.FrontHeat.Value_W_m2K, "W/m²K", $"range {SheetNumbers.Short(table.FrontHeat.Low_W_m2K)} to {SheetNumbers.Short(table.FrontHeat.High_W_m2K)}", table.FrontHeat.From.Text);
        yield return new("channel_heat_W_m2K", "Heat transfer behind it", table.ChannelHeat.Value_W_m2K, "W/m²K", $"range {SheetNumbers.Short(table.ChannelHeat.Low_W_m2K)} to {SheetNumbers.Short(table.ChannelHeat.High_W_m2K)}; in walls of {SheetNumbers.Short(table.MixingWall_mm.Value)} mm and more the tip mixes with what is behind", table.ChannelHeat.From.Text);
        yield return new("front_ratio", "Heat lost by the tip over what stops it, at worst", filling.Worst.Front, "", "h (T − T₀) t / M over ρ (c ΔT + f L)", "Flemings’ form of the flow length, along the way of the stream");
        yield return new("choked_ratio", "Time a way must stay open over what may be counted on, at worst", filling.Worst.Choked, "", $"{SheetNumbers.Short(table.OpenShare.Value)} of the freezing time of the wall, which may be {SheetNumbers.Short(table.FreezingTime_percent.Value)} % off", table.OpenShare.From.Text);
        yield return new("head_ratio", "Head that narrow places ask for over what there is, at worst", filling.Worst.Head, "", $"2 γ / (ρ g d); a skin of oxide can ask for {SheetNumbers.Short(table.OxideSkin_times.Value)} times as much", "Laplace’s law of capillarity");
        yield return new("doubtful_ratio", "Doubtful above", table.Risk.Doubtful, "", "", table.Risk.From.Text);
        yield return new("high_ratio", "Likely to misrun above", table.Risk.High, "", "", table.Risk.From.Text);
        yield return ReckonedLine.Of("mould_constant_s_mm2", "Mould constant", "s/mm²", filling.MouldConstant_s_mm2);
        yield return new("first_freezes_s", "The thinnest wall freezes in", filling.FirstFreezes_s, "s", "t = B M², M half the wall; resistance between metal and sand left out", MouldConstant.Source);
        yield return filling.Shrinkage_percent is { } shrinkage
            ? ReckonedLine.Of("shrinkage_percent", "Shrinks on freezing", "%", shrinkage, shrinkage.Value < 0 ? "below 0: it expands" : "")
            : new("shrinkage_percent", "Shrinks on freezing", double.NaN, "", "not known", "");
        if (filling.Shrinks_mm3 is { } volume) yield return new("shrinks_mm3", "Liquid that the casting lacks when it is solid", volume, "mm³", "", "");
        yield return new("cell_mm", "Reckoned on cells of", filling.Cell_mm, "mm", filling.IsCoarse ? "some wall is thinner than a cell: see what is told of thin sections" : "", "");
    }

    /// <summary>What each ingate gets, %.</summary>
    public static string Shares(FillingPlan filling) => string.Join(" : ", filling.Shares.Select(s => SheetNumbers.Fixed(100 * s, 1)));

    /// <summary>How a place stands, in words.</summary>
    public static string Verdict(FillingPlan filling, FillPlace place) => place.Ratios.Worst > filling.Table.Risk.High ? "high" : "doubtful";

    /// <summary>How the whole mould stands, in a word or two.</summary>
    public static string ShortVerdict(FillingPlan filling) =>
        filling.Places.IsEmpty ? "yes" : filling.Places.Any(p => p.Ratios.Worst > filling.Table.Risk.High) ? "likely not" : "doubtful";

    /// <summary>How the whole mould stands, in a sentence.</summary>
    public static string Verdict(FillingPlan filling)
    {
        var high = filling.Places.Count(p => p.Ratios.Worst > filling.Table.Risk.High);
        return filling.Places.IsEmpty ? "By this reckoning all of it runs: no ratio is above the limit of doubt."
            : high == 0 ? "By this reckoning it is doubtful whether all of it runs; see the places below."
            : "By this reckoning it is likely not to run everywhere; see the places below.";
    }
}
