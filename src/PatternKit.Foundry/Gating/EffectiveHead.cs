using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>
/// The steady head that fills a mould in the same time as its real, falling one. Heads are measured from the metal level in the basin
/// and the mould is taken as equally wide at all heights. A gate at the top has nothing above it (above = 0), one at the bottom all of
/// the casting (above = height), one at the joint a part.
/// </summary>
public static class EffectiveHead
{
    /// <summary>Where the relations come from.</summary>
    public const string Source = "Torricelli's law, integrated over the height of the mould";

    /// <summary>
    /// Exact: below the gate the full head h drives; above it the time is that of the mean of the speeds at both ends,
    /// √H = c / ((c − p)/√h + 2p/(√h + √(h − p))). This is the form that the program uses.
    /// </summary>
    /// <param name="head_mm">h: from the gate up to the metal level in the basin.</param>
    /// <param name="height_mm">c: height of the whole casting.</param>
    /// <param name="above_mm">p: height of the casting above the gate, below the head.</param>
    /// <exception cref="ArgumentOutOfRangeException">The casting reaches above the level in the basin, or a length has no sense.</exception>
    public static double Exact(double head_mm, double height_mm, double above_mm)
    {
        Check(head_mm, height_mm, above_mm);
        var full = Math.Sqrt(head_mm);
        var rising = (full + Math.Sqrt(head_mm - above_mm)) / 2;
        var root = height_mm / (((height_mm - above_mm) / full) + (above_mm / rising));
        return root * root;
    }

    /// <summary>
    /// The handbooks' form H = h − p²/(2c), which for a bottom gate is h − c/2. It over-states the head, by 18 % where the metal ends near
    /// the level in the basin; it is here to be told beside the exact one.
    /// </summary>
    /// <inheritdoc cref="Exact" path="/param"/>
    public static double Simple(double head_mm, double height_mm, double above_mm)
    {
        Check(head_mm, height_mm, above_mm);
        return head_mm - (above_mm * above_mm / (2 * height_mm));
    }

    /// <summary>
    /// The same for a cavity of any shape: √H = V / Σ (Vᵢ / √hᵢ), √hᵢ being the mean of the roots at both ends of a slice. For a mould that is equally wide at all
    /// heights this is the exact form.
    /// </summary>
    /// <param name="head_mm">h: from the gate up to the metal level in the basin.</param>
    /// <param name="cavity">Level slices of the cavity; none reaches over the level in the basin.</param>
    /// <exception cref="ArgumentOutOfRangeException">The casting reaches above the level in the basin, or there is no cavity.</exception>
    public static double OfCavity(double head_mm, ImmutableArray<CavitySlice> cavity)
    {
        Checked.Positive(head_mm, nameof(head_mm));
        var volume = cavity.Sum(s => s.Area_mm2 * (s.High_mm - s.Low_mm));
        Checked.Positive(volume, nameof(cavity));
        // A choke of 1 mm² lets √(2gH) through in a second.
        var speed = volume / new FillClock(1, 1, head_mm).Time_s(cavity);
        return speed * speed / (2 * Flow.Gravity_mm_s2);
    }

    private static void Check(double head_mm, double height_mm, double above_mm)
    {
        Checked.Positive(head_mm, nameof(head_mm));
        Checked.Positive(height_mm, nameof(height_mm));
        Checked.Within(above_mm, 0, Math.Min(height_mm, head_mm), nameof(above_mm));
    }
}
