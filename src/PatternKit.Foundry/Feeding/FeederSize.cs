namespace PatternKit.Foundry;

/// <summary>Which demand a feeder's diameter comes from.</summary>
public enum FeederDemand
{
    /// <summary>It must freeze after the section.</summary>
    Modulus,

    /// <summary>It must hold the metal that the section lacks.</summary>
    Volume,
}

/// <summary>The diameter of a cylinder that feeds a section: the larger of what its modulus and what the shrinkage asks for.</summary>
/// <param name="Diameter_mm">Of the feeder.</param>
/// <param name="Height_mm">That counts.</param>
/// <param name="Modulus_mm">Of such a cylinder.</param>
/// <param name="ByModulus_mm">Diameter that outlasts the section.</param>
/// <param name="ByVolume_mm">Diameter that holds enough.</param>
/// <param name="Neck_mm">Least diameter where it meets the section.</param>
/// <param name="Volume_mm3">What it must hold.</param>
public sealed record FeederSize(double Diameter_mm, double Height_mm, double Modulus_mm, double ByModulus_mm, double ByVolume_mm, double Neck_mm, double Volume_mm3)
{
    /// <summary>Which of the two decides.</summary>
    public FeederDemand Demand => ByModulus_mm >= ByVolume_mm ? FeederDemand.Modulus : FeederDemand.Volume;

    /// <summary>A feeder on top of a section; its foot does not cool, its top does.</summary>
    /// <param name="section_mm">Modulus of the section.</param>
    /// <param name="across_mm">Largest ball in it.</param>
    /// <param name="fed_mm3">Metal that freezes with it.</param>
    /// <param name="shrinkage_percent">Of the metal from liquid to solid.</param>
    /// <param name="room_mm">Height there is for it.</param>
    /// <param name="table">Rules.</param>
    /// <returns>Null where there is not height enough: a cylinder no higher than its modulus never gets it, however wide.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A size is not positive, or the shrinkage no less than what a feeder gives up.</exception>
    public static FeederSize? OnTop(double section_mm, double across_mm, double fed_mm3, double shrinkage_percent, double room_mm, FeedingTable table)
    {
        Checked.Positive(section_mm, nameof(section_mm));
        Checked.Positive(fed_mm3, nameof(fed_mm3));
        Checked.Positive(room_mm, nameof(room_mm));
        var volume = Needed_mm3(fed_mm3, shrinkage_percent, table.Efficiency_percent.Value);
        var slender = table.Height_diameters.Value;
        if (ByModulus(table.Moduli.Feeder * section_mm, room_mm, slender) is not { } byModulus) return null;
        var byVolume = ByVolume(volume, room_mm, slender);
        var diameter = Math.Max(byModulus, byVolume);
        var height = Math.Min(room_mm, slender * diameter);
        // The neck is short and kept hot from both ends; as a long bar it would need this. One as wide as the section does, where that is a bar itself.
        var neck = Math.Min(diameter, 4 * table.Moduli.Neck * section_mm);
        if (Modulus.RoundBar(across_mm) * table.Moduli.Neck >= section_mm) neck = Math.Min(neck, across_mm);
        return new(diameter, height, Modulus.StandingCylinder(diameter, height), byModulus, byVolume, neck, volume);
    }

    /// <summary>The same, wider than what it must hold asks of a plain cylinder: its neck's cone takes some of the room.</summary>
    /// <param name="diameter_mm">Its diameter then.</param>
    /// <param name="room_mm">Height there is for it.</param>
    /// <param name="table">Rules.</param>
    public FeederSize Widened(double diameter_mm, double room_mm, FeedingTable table)
    {
        var height = Math.Min(room_mm, table.Height_diameters.Value * diameter_mm);
        return this with { Diameter_mm = diameter_mm, Height_mm = height, Modulus_mm = Foundry.Modulus.StandingCylinder(diameter_mm, height), ByVolume_mm = diameter_mm };
    }

    /// <summary>Least height that is enough for some diameter, twice the modulus asked for: lower ones get wide without end.</summary>
    public static double LeastRoom_mm(double section_mm, FeedingTable table) => 2 * table.Moduli.Feeder * section_mm;

    /// <summary>What a feeder must hold: α V / (η − α), where η of it is given up to casting and feeder, which both shrink.</summary>
    /// <param name="fed_mm3">V, metal that it feeds.</param>
    /// <param name="shrinkage_percent">α, from liquid to solid.</param>
    /// <param name="efficiency_percent">η.</param>
    /// <exception cref="ArgumentOutOfRangeException">The shrinkage is not positive, or no less than the efficiency.</exception>
    public static double Needed_mm3(double fed_mm3, double shrinkage_percent, double efficiency_percent)
    {
        Checked.Within(fed_mm3, 0, double.MaxValue, nameof(fed_mm3));
        Checked.Positive(shrinkage_percent, nameof(shrinkage_percent));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(shrinkage_percent, efficiency_percent);
        return shrinkage_percent * fed_mm3 / (efficiency_percent - shrinkage_percent);
    }

    private static double? ByModulus(double modulus, double room, double slender)
    {
        // D/(4 + 1/k) = M for a height of k diameters.
        var diameter = modulus * ((4 * slender) + 1) / slender;
        if (slender * diameter <= room) return diameter;
        // D h / (4 h + D) = M, in the room there is.
        return room >= 2 * modulus ? 4 * room * modulus / (room - modulus) : null;
    }

    private static double ByVolume(double volume, double room, double slender)
    {
        var diameter = Math.Cbrt(volume / (Math.PI / 4 * slender));
        return slender * diameter <= room ? diameter : Math.Sqrt(volume / (Math.PI / 4 * room));
    }
}
