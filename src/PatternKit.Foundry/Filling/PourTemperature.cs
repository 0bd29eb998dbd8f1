namespace PatternKit.Foundry;

/// <summary>The temperature to pour at, with the range that the metal allows.</summary>
/// <param name="Taken_C">The one reckoned with.</param>
/// <param name="Highest_C">Hottest that the range allows.</param>
public sealed record PourTemperature(Sourced<double> Taken_C, Sourced<double> Highest_C)
{
    /// <summary>The middle of the alloy's range for its wall, or of a general superheat where it has none; null where no liquidus is known.</summary>
    /// <param name="alloy">The metal.</param>
    /// <param name="meanWall_mm">Mean wall of the casting.</param>
    /// <param name="asked_C">As the job asks; null by rule.</param>
    /// <param name="table">General superheats and the line between thin and thick.</param>
    public static PourTemperature? Of(Alloy alloy, double meanWall_mm, double? asked_C, FillingTable table)
    {
        if (alloy.Freezing is not { } freezing) return null;
        var isThick = meanWall_mm >= table.ThickWall_mm.Value;
        var general = isThick ? table.SuperheatThick : table.SuperheatThin;
        var walls = $"{(isThick ? "thick" : "thin")} walls: mean wall {Shown.Number(meanWall_mm)} mm";
        var (low, high, rule, source) = alloy.Heat.Pouring is { } p
            ? (isThick ? p.ThickLow_C : p.ThinLow_C, isThick ? p.ThickHigh_C : p.ThinHigh_C, $"range for {walls}", p.From.Text)
            : (freezing.Liquidus_C + general.Low_C, freezing.Liquidus_C + general.High_C,
                $"liquidus + {Shown.Number(general.Low_C)} to {Shown.Number(general.High_C)} °C, {walls}; no range of this alloy is known", general.From.Text);
        // Metal at its liquidus does not run.
        var least = freezing.Liquidus_C + table.SuperheatThick.Low_C;
        var middle = Math.Max((low + high) / 2, least);
        var hottest = Math.Max(alloy.Heat.Pouring is { } own ? Math.Max(own.ThinHigh_C, own.ThickHigh_C) : freezing.Liquidus_C + table.SuperheatThin.High_C, middle);
        var told = middle > (low + high) / 2 ? $"liquidus + {Shown.Number(table.SuperheatThick.Low_C)} °C, since the middle of the range lies below that" : $"middle of the {rule}";
        return new(
            asked_C is { } asked ? new(asked, "", GatingRules.Given) : new(middle, source, told),
            new(hottest, source, $"upper end of the {(alloy.Heat.Pouring is null ? "general superheat" : "alloy's range")} for thin walls"));
    }
}
