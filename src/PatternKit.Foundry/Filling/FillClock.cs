namespace PatternKit.Foundry;

/// <summary>A slice of a cavity, equally wide at all its heights.</summary>
/// <param name="Low_mm">From, above the gate; below 0 where it lies below.</param>
/// <param name="High_mm">To.</param>
/// <param name="Area_mm2">Of its level section.</param>
public readonly record struct CavitySlice(double Low_mm, double High_mm, double Area_mm2);

/// <summary>
/// How fast a mould fills: Bernoulli's law through the choke, the head counted from the level in the basin down to the gate, or to the metal
/// over it.
/// </summary>
/// <param name="Choke_mm2">Area of the choke.</param>
/// <param name="Discharge">Coefficient of discharge.</param>
/// <param name="Head_mm">From the gate up to the level in the basin.</param>
public sealed record FillClock(double Choke_mm2, double Discharge, double Head_mm)
{
    /// <summary>
    /// Mean rate while the level rises through a slice that is equally wide at all its heights, mm³/s. Exact: the time through it is its volume
    /// over the mean of the rates at both ends.
    /// </summary>
    /// <param name="low_mm">Level above the gate at the start.</param>
    /// <param name="high_mm">At the end, not above the head.</param>
    public double Rate_mm3_s(double low_mm, double high_mm)
    {
        if (low_mm < 0 && high_mm > 0)
        {
            // Below the gate the full head drives.
            var (below, above) = (-low_mm / Rate_mm3_s(low_mm, 0), high_mm / Rate_mm3_s(0, high_mm));
            return (high_mm - low_mm) / (below + above);
        }

        return (At(low_mm) + At(high_mm)) / 2;
    }

    /// <summary>Time to fill a cavity from the bottom up, s.</summary>
    /// <param name="slices">Ascending or not; the order does not matter, since each has its own levels.</param>
    /// <exception cref="ArgumentOutOfRangeException">A slice reaches above the level in the basin or is no slice, or nothing drives the metal.</exception>
    public double Time_s(IEnumerable<CavitySlice> slices)
    {
        Checked.Positive(Choke_mm2 * Discharge * Head_mm, nameof(Choke_mm2));
        return slices.Sum(Own_s);

        double Own_s(CavitySlice s)
        {
            Checked.Within(s.Area_mm2, 0, double.MaxValue, nameof(slices));
            return s.Area_mm2 == 0 ? 0 : s.Area_mm2 * (s.High_mm - s.Low_mm) / Rate_mm3_s(s.Low_mm, s.High_mm);
        }
    }

    private double At(double level_mm)
    {
        Checked.Within(level_mm, double.NegativeInfinity, Head_mm * (1 + 1e-9), nameof(level_mm));
        return Choke_mm2 * Discharge * Flow.Speed_mm_s(Math.Max(0, Head_mm - Math.Max(0, level_mm)));
    }
}
