namespace PatternKit.Foundry;

/// <summary>How long the mould may take to fill, by metal, weight and wall.</summary>
public static class PourTime
{
    /// <summary>The time by the law of the metal, seconds.</summary>
    /// <param name="alloy">The metal.</param>
    /// <param name="mass_kg">What passes the choke: casting and feeders.</param>
    /// <param name="wall_mm">Mean wall of the casting.</param>
    /// <param name="tables">Laws and fluidity.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is not positive.</exception>
    public static Sourced<double> For(Alloy alloy, double mass_kg, double wall_mm, GatingTables tables)
    {
        Checked.Positive(mass_kg, nameof(mass_kg));
        Checked.Positive(wall_mm, nameof(wall_mm));
        // The last row of a family has no limits, so that one always fits.
        var row = tables.PourTime.First(r => r.Family == alloy.Family && (r.Alloys.IsEmpty || r.Alloys.Contains(alloy.Key)) && mass_kg <= r.UpTo_kg && wall_mm <= r.UpTo_mm);
        var k = row.Fluidity_in is { } unit ? tables.Fluidity_in.Value / unit : 1;
        var factor = row.A + (row.B_mm is { } b ? wall_mm / b : 0) - (row.C * Math.Log10(mass_kg));
        var time = k * factor * Math.Pow(mass_kg, 1.0 / row.Root);
        var fluidity = row.Fluidity_in is null ? "" : $", fluidity {Shown.Number(tables.Fluidity_in.Value)} in";
        var source = row.Fluidity_in is null ? row.From.Text : $"{row.From.Text}; fluidity: {tables.Fluidity_in.From.Text}";
        return new(time, source, $"{row.Printed}; W {Shown.Number(mass_kg)} kg, mean wall {Shown.Number(wall_mm)} mm{fluidity}");
    }
}
