namespace PatternKit.Foundry;

/// <summary>How long the prints of a core are, and how wide its vent is.</summary>
public static class PrintRules
{
    /// <summary>Either print of a core that lies, mm.</summary>
    /// <param name="diameter_mm">Of the print.</param>
    /// <param name="load_N">What it is to bear.</param>
    /// <param name="bearing_kPa">What the sand bears.</param>
    /// <param name="table">Rules.</param>
    /// <param name="width_mm">Of a print that is not round, at the joint; the diameter when left out.</param>
    public static Sourced<double> Lying(double diameter_mm, double load_N, double bearing_kPa, CoreTable table, double? width_mm = null)
    {
        Checked.Positive(diameter_mm, nameof(diameter_mm));
        var rule = table.Lying;
        var usual = Math.Max(rule.Least_mm, rule.Diameters * diameter_mm);
        var asked = CoreForces.Area_mm2(load_N, bearing_kPa) / (width_mm ?? diameter_mm);
        var length = Math.Min(Math.Max(usual, asked), Math.Max(usual, rule.MostDiameters * diameter_mm));
        return new(length, rule.From.Text, length > usual
            ? $"lengthened for the load from {Shown.Number(usual)} mm, at most {Shown.Number(rule.MostDiameters)} diameters"
            : $"the larger of {Shown.Number(rule.Least_mm)} mm and {Shown.Number(rule.Diameters)} diameter");
    }

    /// <summary>The one print of a core that lies and ends in the metal, mm.</summary>
    /// <param name="diameter_mm">Of the print.</param>
    /// <param name="hollow_mm">Length of what it carries.</param>
    /// <param name="table">Rules.</param>
    public static Sourced<double> Blind(double diameter_mm, double hollow_mm, CoreTable table)
    {
        Checked.Positive(diameter_mm, nameof(diameter_mm));
        Checked.Positive(hollow_mm, nameof(hollow_mm));
        var (rule, times) = (table.Lying, table.BlindTimesHollow);
        return new(
            Math.Max(times.Value * hollow_mm, Math.Max(rule.Least_mm, rule.Diameters * diameter_mm)), $"{times.From.Text}; {rule.From.Text}",
            $"the largest of {Shown.Number(times.Value)} times the hollow, {Shown.Number(rule.Least_mm)} mm and {Shown.Number(rule.Diameters)} diameter");
    }

    /// <summary>A print of a core that stands, mm.</summary>
    /// <param name="diameter_mm">Of the core at the print.</param>
    /// <param name="isTop">Whether it is the upper one of two.</param>
    /// <param name="table">Rules.</param>
    public static Sourced<double> Standing(double diameter_mm, bool isTop, CoreTable table)
    {
        Checked.Positive(diameter_mm, nameof(diameter_mm));
        var rule = table.Standing;
        var bottom = Math.Min(rule.Diameters * diameter_mm, rule.Longest_mm);
        return new(isTop ? rule.TopShare * bottom : bottom, rule.From.Text,
            isTop ? $"{Shown.Number(rule.TopShare)} of the lower print" : $"{Shown.Number(rule.Diameters)} diameter, at most {Shown.Number(rule.Longest_mm)} mm");
    }

    /// <summary>Diameter of the vent through a core, mm.</summary>
    /// <param name="least_mm">Least diameter of the core.</param>
    /// <param name="table">Rules.</param>
    public static Sourced<double> Vent(double least_mm, CoreTable table)
    {
        Checked.Positive(least_mm, nameof(least_mm));
        var rule = table.Vent;
        return new(Math.Clamp(rule.Diameters * least_mm, rule.Least_mm, rule.Most_mm), rule.From.Text,
            $"{Shown.Number(rule.Diameters)} of the core's least diameter, from {Shown.Number(rule.Least_mm)} to {Shown.Number(rule.Most_mm)} mm");
    }
}
